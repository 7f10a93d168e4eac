package checks

var dangling = Check{
	Name: "dangling", Family: Reading, Level: Error,
	Meaning: "A name is written that no record answers to: of a maker, model, feature, era, claim, source or example.",
	Example: `{feature: riser-wood, value: padauk, span: 1958/1971, cites: ["list-1958, p. 2", "list-1986, p. 6"]}
→ there is no source "list-1986"`,
	Remedy: "Mend its spelling, or write the record that is missing.",
	Run:    reportProblems,
}
