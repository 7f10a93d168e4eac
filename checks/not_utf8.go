package checks

var notUTF8 = Check{
	Name: "not-utf8", Family: Reading, Level: Error,
	Meaning: "A file holds bytes that are no UTF-8 text.",
	Example: "# \"Plöver\", saved in an old encoding of Windows\ntitle: Pl�ver\n→ the byte 0xF6 is not UTF-8 text",
	Remedy:  "Save the file as UTF-8: most editors offer it under \"save with encoding\".",
	Run:     reportProblems,
}
