package checks

import (
	"slices"

	"yearmark/schema"
)

var unmeasuredRecording = Check{
	Name: "unmeasured-recording", Family: Recordings, Level: Note, needsFiles: true,
	Meaning: "How long a recording plays is not known here, so its times cannot be held against it. It is known of WAV, MP3 and Ogg.",
	Example: `recording: {file: talk.flac}
→ how long "talk.flac" plays is not known`,
	Remedy: "Nothing need be done; saved as Ogg or MP3 it would be known.",
	Run: func(p *Pass) {
		for _, r := range p.recordings() {
			if r.unmeasured && slices.ContainsFunc(r.source.Places, isTimed) {
				p.Reportf(r.source.Recording.File.Pos, "how long %s plays is not known", quote(r.source.Recording.File.Value))
			}
		}
	},
}

func isTimed(p *schema.SourcePlace) bool {
	_, timed := p.Locator().Time()
	return timed
}
