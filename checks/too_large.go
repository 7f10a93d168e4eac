package checks

var tooLarge = Check{
	Name: "too-large", Family: Reading, Level: Error,
	Meaning: "A file, a list or a folder is larger than any reference needs.",
	Example: `# pages/rules.md has 5 MB
→ the file has 5.0 MB, more than 4 MB`,
	Remedy: "Divide the record, or move pictures to the folder pictures.",
	Run:    reportProblems,
}
