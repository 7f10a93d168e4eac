package checks

var twoSpans = Check{
	Name: "two-spans", Family: Spans, Level: Error,
	Meaning: "A claim has both years of its own and an era, so that it cannot be told which are meant.",
	Example: `{feature: maker-mark, value: oval, span: 1958/1971, era: whole, cites: ["list-1965, p. 6"]}
→ the claim has both a span and an era`,
	Remedy: "Keep one of the two.",
	Run:    reportProblems,
}
