package checks

var unkeptRecording = Check{
	Name: "unkept-recording", Family: Recordings, Level: Warning,
	Meaning: "A recording is linked on the web and no file of it is kept; recordings vanish sooner than pages.",
	Example: `recording: {link: "https://example.org/talk"}
→ the recording is linked and not kept`,
	Remedy: "Save the recording into the folder recordings and add file: with its name; shown: words keeps it from being published.",
	Run: func(p *Pass) {
		for _, s := range p.Ref.Sources.All() {
			if s.Recording != nil && s.Recording.Link.Value != "" && s.Recording.File.Value == "" {
				p.Reportf(s.Recording.Link.Pos, "the recording is linked and not kept")
			}
		}
	},
}
