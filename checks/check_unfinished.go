package checks

var checkUnfinished = Check{
	Name: "check-unfinished", Family: Reading, Level: Error,
	Meaning: "A check failed or took too long, so that what it looks for is not known; all other checks were made.",
	Example: `# any reference
→ the check "bare-year" took longer than 1m4s`,
	Remedy: "The fault is Yearmark's, not the records': please report it with the record that brought it about.",
	Run:    func(*Pass) {}, // reported by Run itself
}
