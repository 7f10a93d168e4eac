package checks

var oddCharacters = Check{
	Name: "odd-characters", Family: Reading, Level: Error,
	Meaning: "A character stands in a file that cannot be seen but changes how it is read: a control character or a mark that turns the writing direction.",
	Example: `# title: Plover, with an unseen mark after the o
→ a character that reverses the direction of text (U+202E) stands in the text`,
	Remedy: "Delete the character; typing the line afresh is the surest way.",
	Run:    reportProblems,
}
