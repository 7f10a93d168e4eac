package checks

var malformedSpan = Check{
	Name: "malformed-span", Family: Spans, Level: Error,
	Meaning: "Years are not written as EDTF (ISO 8601-2), or run backwards, so that it cannot be told which are meant.",
	Example: `{feature: riser-wood, value: padauk, span: 1967/1964, cites: ["list-1958, p. 2"]}
→ "1967/1964" cannot be read as years: it ends before it starts`,
	Remedy: "Write 1965 for a year, 1964/1967 for a stretch, 1964~ for about, 1964? for a doubted one, 196X for one of ten, \"[1966,1968]\" for one of these.",
	Run:    reportProblems,
}
