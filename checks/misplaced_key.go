package checks

var misplacedKey = Check{
	Name: "misplaced-key", Family: Reading, Level: Error,
	Meaning: "A key or statement stands where it means nothing: it belongs to another kind of statement or feature.",
	Example: `made: {span: 1958/1971, value: padauk, cites: ["list-1958, p. 2"]}
→ "value" cannot be written in the made span`,
	Remedy: "Move it to where it belongs, or delete it.",
	Run:    reportProblems,
}
