package checks

var unknownUnit = Check{
	Name: "unknown-unit", Family: Specs, Level: Error,
	Meaning: "A figure has a unit that records do not use.",
	Example: `{spec: draw-weight, range: 30..55 lbs, span: 1965, cites: ["list-1965, p. 6"]}
→ the unit "lbs" is not known`,
	Remedy: "Write in, lb, gr, mm, cm, kg or g.",
	Run:    reportProblems,
}
