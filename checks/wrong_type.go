package checks

var wrongType = Check{
	Name: "wrong-type", Family: Reading, Level: Error,
	Meaning: "A value is of another form than its key wants: a list for a word, a word for a number.",
	Example: `title: [Rules]
→ "title" wants one word or sentence, not a list`,
	Remedy: "Write it in the form that the message names.",
	Run:    reportProblems,
}
