package checks

var strayFile = Check{
	Name: "stray-file", Family: Reading, Level: Warning,
	Meaning: "A file or folder lies where no record or picture belongs, so that it is not read.",
	Example: `# modles/plover.md
→ the folder "modles" is no part of a reference`,
	Remedy: "Move it to the folder of its kind, or begin its name with a full stop.",
	Run:    reportProblems,
}
