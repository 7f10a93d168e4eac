package checks

var nestedFolder = Check{
	Name: "nested-folder", Family: Reading, Level: Error,
	Meaning: "A folder lies in a folder of records; what is in it is not read.",
	Example: `# models/old/plover.md
→ a folder lies in the folder models`,
	Remedy: "Move its records up: every record of a kind lies in one folder.",
	Run:    reportProblems,
}
