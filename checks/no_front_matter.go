package checks

var noFrontMatter = Check{
	Name: "no-front-matter", Family: Reading, Level: Error,
	Meaning: "A record does not begin with its keys between two lines of three hyphens.",
	Example: `record: model
name: Plover
→ the file does not begin with a line of three hyphens`,
	Remedy: "Begin the file with a line of three hyphens, write the keys, close them with a second such line, and let the text follow.",
	Run:    reportProblems,
}
