package checks

var noYears = Check{
	Name: "no-years", Family: Spans, Level: Error,
	Meaning: "A claim does not say in which years it holds.",
	Example: `{feature: maker-mark, value: oval, cites: ["list-1965, p. 6"]}
→ the claim does not say in which years it holds`,
	Remedy: "Add span: with the years (1964/ where the end is not known, /1967 where the start is not), era: with the name of one, or attested: with the years in which it was seen. Where only the order of two features is known, give the claim an id, say the order under order:, and leave the span away.",
	Run:    reportProblems,
}
