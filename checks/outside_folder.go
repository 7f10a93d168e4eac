package checks

var outsideFolder = Check{
	Name: "outside-folder", Family: Reading, Level: Error,
	Meaning: "A link or path leads out of the folder of the reference.",
	Example: `picture: ../../elsewhere.svg
→ the picture "../../elsewhere.svg" does not lie in the folder pictures`,
	Remedy: "Put the file itself into the folder, and write its path below the folder pictures.",
	Run:    reportProblems,
}
