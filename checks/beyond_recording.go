package checks

import (
	"fmt"
	"time"
)

var beyondRecording = Check{
	Name: "beyond-recording", Family: Recordings, Level: Error, needsFiles: true,
	Meaning: "A time lies beyond the end of the recording.",
	Example: `{at: "0:02", says: "Padauk from the start"}
→ the time "0:02" is beyond the recording, which plays for 0:01`,
	Remedy: "Look at the time again: it is minutes and seconds from the start, as in 12:34.",
	Run: func(p *Pass) {
		for _, r := range p.recordings() {
			if r.length == 0 {
				continue
			}
			for _, place := range r.source.Places {
				if span, timed := place.Locator().Time(); timed && max(span.Start, span.End) > r.length {
					p.Reportf(place.At.Pos, "the time %s is beyond the recording, which plays for %s", quote(place.At.Value), clock(r.length))
				}
			}
		}
	},
}

// clock writes a time as places do: 0:01, 12:34, 1:02:03.
func clock(d time.Duration) string {
	s := int(d.Seconds())
	if s >= 3600 {
		return fmt.Sprintf("%d:%02d:%02d", s/3600, s/60%60, s%60)
	}
	return fmt.Sprintf("%d:%02d", s/60, s%60)
}
