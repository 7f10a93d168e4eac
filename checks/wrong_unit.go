package checks

var wrongUnit = Check{
	Name: "wrong-unit", Family: Specs, Level: Error,
	Meaning: "A figure has another unit than its feature, so that the two cannot be held against each other.",
	Example: `{spec: draw-weight, range: 30..55 kg, span: 1958/1971, cites: ["list-1965, p. 6"]}
→ "30..55 kg" is not in the unit of "draw-weight"`,
	Remedy: "Write the figure in the feature's unit.",
	Run:    reportProblems,
}
