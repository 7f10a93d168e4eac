package checks

var badPattern = Check{
	Name: "bad-pattern", Family: Reading, Level: Error,
	Meaning: "The pattern of a text feature cannot be used.",
	Example: `{feature: model-number, value: "^[A-F", span: 1958/1971, cites: ["list-1965, p. 6"]}
→ "^[A-F" is not a pattern: missing closing ]`,
	Remedy: "If the text is meant as it stands, put a backslash before each of . + * ? ( ) [ ] { } | ^ $.",
	Run:    reportProblems,
}
