package checks

var oddCharacters = Check{
	Name: "odd-characters", Family: Reading, Level: Error,
	Meaning: "A character stands in a file that cannot be seen but changes how it is read: a control character or a mark that turns the writing direction.",
	Example: `name: Plo\u202Ever
→ ?`,
	Remedy: "Delete the character; typing the line afresh is the surest way.",
	Run:    reportProblems,
}
