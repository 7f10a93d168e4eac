package checks

var unknownKey = Check{
	Name: "unknown-key", Family: Reading, Level: Error,
	Meaning: "A key is written that no record of this kind has, so that what follows it is not read.",
	Example: `uses: [target]
→ a model has no key "uses"`,
	Remedy: "Mend the key's spelling, or delete the line.",
	Run:    reportProblems,
}
