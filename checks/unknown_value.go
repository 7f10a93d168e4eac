package checks

var unknownValue = Check{
	Name: "unknown-value", Family: Reading, Level: Error,
	Meaning: "A value is none of those that its key allows or that its feature's record declares.",
	Example: `{feature: riser-wood, value: paduak, span: 1958/1971, cites: ["list-1965, p. 6"]}
→ "paduak" is not a value of "riser-wood"`,
	Remedy: "Mend its spelling, or declare the value in the feature's record.",
	Run:    reportProblems,
}
