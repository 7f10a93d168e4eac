package checks

var dangling = Check{
	Name: "dangling", Family: Reading, Level: Error,
	Meaning: "A name is written that no record answers to: of a maker, model, feature, era, claim, source or example.",
	Example: `cites: ["list-1946, p. 6"]
→ there is no source "list-1946"`,
	Remedy: "Mend its spelling, or write the record that is missing.",
	Run:    reportProblems,
}
