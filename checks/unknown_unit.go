package checks

var unknownUnit = Check{
	Name: "unknown-unit", Family: Specs, Level: Error,
	Meaning: "A figure has a unit that records do not use.",
	Example: `{spec: draw-weight, range: 30..55 pds, span: 1958/1971, cites: ["list-1965, p. 6"]}
→ the unit "pds" is not known`,
	Remedy: "Write in, lb, gr, mm, cm, kg or g.",
	Run:    reportProblems,
}
