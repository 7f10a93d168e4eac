package checks

var outOfBounds = Check{
	Name: "out-of-bounds", Family: Reading, Level: Error,
	Meaning: "A figure lies beyond its limits.",
	Example: `judgement: {circa: 200}
→ "circa" is out of bounds: 200`,
	Remedy: "Write a figure within the limits that the message names.",
	Run:    reportProblems,
}
