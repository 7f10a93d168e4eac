package checks

var unknownKind = Check{
	Name: "unknown-kind", Family: Reading, Level: Error,
	Meaning: "The key record names no kind of record.",
	Example: `record: modle
→ there is no kind of record "modle"`,
	Remedy: "Write maker, model, feature, source, example or page.",
	Run:    reportProblems,
}
