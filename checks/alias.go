package checks

var alias = Check{
	Name: "alias", Family: Reading, Level: Error,
	Meaning: "A value refers to another place in the file, names itself for such a reference, or states a YAML type; records are read as they stand.",
	Example: `use: [&u target, *u]
→ "&" names a place in the file`,
	Remedy: "Write the value out; put the text in quotes if the sign is part of it.",
	Run:    reportProblems,
}
