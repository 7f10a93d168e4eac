package checks

var malformedFigure = Check{
	Name: "malformed-figure", Family: Specs, Level: Error,
	Meaning: "A figure or range cannot be read.",
	Example: `{spec: draw-weight, range: about 40 lb, span: 1958/1971, cites: ["list-1965, p. 6"]}
→ "about 40 lb" is not a figure`,
	Remedy: "Write a figure as in 42, 7.25 or 7 1/4, and a range as in 30..55 lb.",
	Run:    reportProblems,
}
