package checks

var unknownKey = Check{
	Name: "unknown-key", Family: Reading, Level: Error,
	Meaning: "A key is written that no record of this kind has, so that what follows it is not read.",
	Example: `nmae: Plover
→ the model has no key "nmae"`,
	Remedy: "Mend the key's spelling, or delete the line.",
	Run:    reportProblems,
}
