package checks

var unreadable = Check{
	Name: "unreadable", Family: Reading, Level: Error,
	Meaning: "The keys at the top of a record cannot be read, or the file cannot be opened.",
	Example: `name: Plover
use: [target, field
maker: halvane
→ ?`,
	Remedy: "Look at the line named and at the one before it: a missing quote, bracket, colon or space is the usual cause.",
	Run:    reportProblems,
}
