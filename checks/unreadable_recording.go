package checks

var unreadableRecording = Check{
	Name: "unreadable-recording", Family: Recordings, Level: Error, needsFiles: true,
	Meaning: "A recording cannot be published: it is not of a kind that browsers play and whose tags can be taken out (WAV, MP3, Ogg, FLAC), is damaged, or is very large.",
	Example: `recording: {file: talk.ogg}
→ the recording "talk.ogg" is neither Vorbis nor Opus`,
	Remedy: "Save it from a program for sound as MP3 or Ogg, with one track.",
	Run: func(p *Pass) {
		for _, r := range p.recordings() {
			if r.fault != "" {
				p.Reportf(r.source.Recording.File.Pos, "the recording %s %s", quote(r.source.Recording.File.Value), r.fault)
			}
		}
	},
}
