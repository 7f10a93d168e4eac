package checks

var badAddress = Check{
	Name: "bad-address", Family: Reading, Level: Error,
	Meaning: "A link or address is not one that a page may link to.",
	Example: `link: ftp://example.org/list
→ "ftp://example.org/list" is not an address that a page may link to`,
	Remedy: "Write a whole address that begins with https:// or http://.",
	Run:    reportProblems,
}
