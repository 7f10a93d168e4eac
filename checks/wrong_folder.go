package checks

var wrongFolder = Check{
	Name: "wrong-folder", Family: Reading, Level: Error,
	Meaning: "A record of one kind lies in the folder of another.",
	Example: `# models/halvane.md
record: maker
→ a record of kind "maker" stands in the folder models`,
	Remedy: "Move the file to the folder of its kind, or mend the key record.",
	Run:    reportProblems,
}
