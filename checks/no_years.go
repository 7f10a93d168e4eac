package checks

var noYears = Check{
	Name: "no-years", Family: Spans, Level: Error,
	Meaning: "A claim does not say in which years it holds.",
	Example: `{feature: maker-mark, value: oval, cites: ["list-1965, p. 6"]}
→ the claim does not say in which years it holds`,
	Remedy: "Add span: with the years, era: with the name of one, or attested: with the years in which it was seen.",
	Run:    reportProblems,
}
