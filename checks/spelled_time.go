package checks

import (
	"fmt"

	"yearmark/schema"
)

var spelledTime = Check{
	Name: "spelled-time", Family: Recordings, Level: Warning,
	Meaning: "A time of a recording is written in words or with a full stop. It is not found by citations that write it as times are written, and nothing plays from there.",
	Example: `{at: minute 3, says: "Padauk from the start"}
→ "minute 3" is not read as a time of the recording`,
	Remedy: "Write minutes and seconds with a colon, as in 3:00, or hours too, as in 1:02:03.",
	Run: func(p *Pass) {
		tell := func(pos schema.Pos, written string) {
			if clock, ok := schema.TimeInWords(written); ok {
				p.Report(Finding{
					Pos: pos, Message: quote(written) + " is not read as a time of the recording", Help: fmt.Sprintf("Write %s.", clock),
					Remedies: []schema.Remedy{schema.Rename(pos, written, clock)},
				})
			}
		}
		for _, s := range p.Ref.Sources.All() {
			if s.Heard() {
				for _, place := range s.Places {
					tell(place.At.Pos, place.At.Value)
				}
			}
		}
		for c := range p.placesCited {
			if c.source != nil && c.source.Heard() {
				tell(c.cite.Pos, c.cite.Place)
			}
		}
	},
}
