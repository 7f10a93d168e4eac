package checks

var malformedSpan = Check{
	Name: "malformed-span", Family: Spans, Level: Error,
	Meaning: "Years are not written as EDTF (ISO 8601-2), or run backwards, so that it cannot be told which are meant.",
	Example: `span: 1967/1964
→ ?`,
	Remedy: "Write 1965 for a year, 1964/1967 for a stretch, 1964~ for about, 1964? for a doubted one, 196X for one of ten, \"[1966,1968]\" for one of these.",
	Run:    reportProblems,
}
