package checks

var unreadable = Check{
	Name: "unreadable", Family: Reading, Level: Error,
	Meaning: "The keys at the top of a record cannot be read, or the file cannot be opened.",
	Example: `name: Stang
use: [target, field
→ the bracket "[" is never closed`,
	Remedy: "Look at the line named and at the one before it: a missing quote, bracket, colon or space is the usual cause.",
	Run:    reportProblems,
}
