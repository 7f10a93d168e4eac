package checks

var badIdentifier = Check{
	Name: "bad-identifier", Family: Reading, Level: Error,
	Meaning: "A file name or id is not written in small letters, digits and hyphens, so that it cannot be linked to.",
	Example: `# models/Plover_2.md
→ the file name "Plover_2" is no identifier`,
	Remedy: "Rename it in small letters, digits and hyphens, as in plover-2.md.",
	Run:    reportProblems,
}
