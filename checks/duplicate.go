package checks

var duplicate = Check{
	Name: "duplicate", Family: Reading, Level: Error,
	Meaning: "One identifier stands for two things.",
	Example: `features:
  - {id: oak, feature: riser-wood, value: padauk, span: 1960, cites: ["list-1960, p. 2"]}
  - {id: oak, feature: riser-wood, value: walnut, span: 1962, cites: ["list-1962, p. 4"]}
→ the id "oak" stands for two claims`,
	Remedy: "Give one of them another identifier; keep the one that was published first.",
	Run:    reportProblems,
}
