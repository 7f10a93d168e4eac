package checks

var duplicate = Check{
	Name: "duplicate", Family: Reading, Level: Error,
	Meaning: "One identifier stands for two things.",
	Example: `features:
  - {id: oak, feature: riser-wood, value: padauk, span: 1958/1965, cites: ["list-1958, p. 2"]}
  - {id: oak, feature: riser-wood, value: walnut, span: 1966/1971, cites: ["list-1965, p. 6"]}
→ the id "oak" stands for two claims`,
	Remedy: "Give one of them another identifier; keep the one that was published first.",
	Run:    reportProblems,
}
