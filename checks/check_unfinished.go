package checks

var checkUnfinished = Check{
	Name: "check-unfinished", Family: Reading, Level: Error,
	Meaning: "A check failed, so that what it looks for is not known; all other checks were made.",
	Example: `# any reference
→ the check "bare-year" failed: index out of range`,
	Remedy: "The fault is Yearmark's, not the records': please report it with the record that brought it about.",
	Run:    func(*Pass) {}, // reported by Run itself
}
