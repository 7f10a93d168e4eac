package checks

var malformedTranscript = Check{
	Name: "malformed-transcript", Family: Reading, Level: Warning,
	Meaning: "A source's transcript is not in the folder recordings, a line of it cannot be read, or a mending fits none of its words. The rest of it is read all the same.",
	Example: `mend: [{at: "0:08", heard: "sappy lee", read: sapele}]
→ the transcript has no "sappy lee" at 0:08`,
	Remedy: "Mend the file or its name; of a mending, copy what was heard from the transcript to the letter.",
	Run:    reportProblems,
}
