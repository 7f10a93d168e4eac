package checks

var reversedRange = Check{
	Name: "reversed-range", Family: Specs, Level: Error,
	Meaning: "A range begins with its greater figure.",
	Example: `{spec: draw-weight, range: 55..30 lb, span: 1958/1971, cites: ["list-1965, p. 6"]}
→ the range "55..30 lb" runs downwards`,
	Remedy: "Write the smaller figure first.",
	Run:    reportProblems,
}
