package checks

var tooDeep = Check{
	Name: "too-deep", Family: Reading, Level: Error,
	Meaning: "Lists and keys stand in each other deeper than any record needs.",
	Example: `use: [[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[target]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]
→ lists and keys stand more than 32 deep in each other`,
	Remedy: "Close the brackets, or take out the indentation.",
	Run:    reportProblems,
}
