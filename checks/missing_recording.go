package checks

import (
	"slices"

	"yearmark/schema"
)

var missingRecording = Check{
	Name: "missing-recording", Family: Recordings, Level: Error,
	Meaning: "A source names a recording that is not in the folder recordings.",
	Example: `recording: {file: talk.wav}
→ there is no recording "talk.wav"`,
	Remedy: "Put the file into the folder recordings, or mend its name here; capitals count.",
	Run: func(p *Pass) {
		for _, s := range p.Ref.Sources.All() {
			if s.Recording == nil || s.Recording.File.Value == "" {
				continue
			}
			file := s.Recording.File
			if _, there := slices.BinarySearch(p.Ref.Recordings, file.Value); there {
				continue
			}
			f := Finding{Pos: file.Pos, Message: "there is no recording " + quote(file.Value), Missing: schema.RecordingsFolder + "/" + file.Value}
			f.nearest(file.Value, file.Value, p.Ref.Recordings, func(near string) string { return near })
			p.Report(f)
		}
	},
}
