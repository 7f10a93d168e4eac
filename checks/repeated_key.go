package checks

var repeatedKey = Check{
	Name: "repeated-key", Family: Reading, Level: Error,
	Meaning: "The same key is written twice in one place; only one could be meant.",
	Example: `title: Rules
title: The rules
→ the key "title" is written twice`,
	Remedy: "Keep one of the two; where both belong, put their values into one list.",
	Run:    reportProblems,
}
