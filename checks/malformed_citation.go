package checks

var malformedCitation = Check{
	Name: "malformed-citation", Family: Reading, Level: Error,
	Meaning: "A citation does not begin with the file name of a source.",
	Example: `{feature: riser-wood, value: padauk, span: 1958/1971, cites: ["list-1958, p. 2", "p. 6"]}
→ the place "p. 6" stands without its source`,
	Remedy: "Write the source and the place in one pair of quotes: \"list-1964, p. 6\".",
	Run:    reportProblems,
}
