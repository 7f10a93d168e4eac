package checks

var missingKey = Check{
	Name: "missing-key", Family: Reading, Level: Error,
	Meaning: "A key that must be there is not, or has no value.",
	Example: `record: model
name: Stang
→ a model has no key "maker"`,
	Remedy: "Add the key and its value.",
	Run:    reportProblems,
}
