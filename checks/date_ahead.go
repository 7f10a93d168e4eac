package checks

import (
	"fmt"

	"yearmark/schema"
)

// How far a date may lie beyond others before it is taken for a slip. No clock
// is asked: the same records give the same findings on any day.
const (
	yearsBeyondHorizon = 100 // a bow is written about long after the horizon ends
	yearsBeyondOthers  = 15
	othersWanted       = 3 // days on which the register did something, before they say what is usual
)

var dateAhead = Check{
	Name: "date-ahead", Family: Provenance, Level: Warning,
	Meaning: "A source was issued, or a bow seen, far later than anything else that the register says it did, or than the years it covers: most likely a slip of the pen.",
	Example: `# other bows were seen, and pages copied, until 2026
seen: 2062-03-14
→ "2062-03-14" lies 36 years after every other day on which the register says it did something`,
	Remedy: "Mend the year: look for digits that changed places.",
	Run: func(p *Pass) {
		own := ownYears(p.Ref)
		for _, s := range p.Ref.Sources.All() {
			p.ahead(s.Issued, own)
		}
		for _, e := range p.Ref.Examples.All() {
			p.ahead(e.Seen, own)
		}
	},
}

func (p *Pass) ahead(d schema.Span, own []dated) {
	year, known := d.Latest()
	if !known {
		return
	}
	newest, others := 0, 0
	for _, o := range own {
		if o.at != d.Pos {
			newest, others = max(newest, o.year), others+1
		}
	}
	horizon := p.Ref.Horizon()
	switch {
	case others >= othersWanted && year-newest > yearsBeyondOthers:
		p.Reportf(d.Pos, "%s lies %d years after every other day on which the register says it did something", quote(d.String()), year-newest)
	case year-horizon.Last > yearsBeyondHorizon:
		p.Report(Finding{
			Pos: d.Pos, Message: fmt.Sprintf("%s lies %d years after the years that the reference covers", quote(d.String()), year-horizon.Last),
			Why: []Place{{Pos: p.Ref.Settings.Years.Pos, Message: fmt.Sprintf("the reference covers %d–%d", horizon.First, horizon.Last)}},
		})
	}
}

// dated is a year at a place in the records.
type dated struct {
	year int
	at   schema.Pos
}

// ownYears lists when the register itself did something: saw a bow, copied a
// page, settled a dispute. Only the newest are kept, one more than are wanted.
func ownYears(ref *schema.Reference) (newest []dated) {
	note := func(d schema.Span) {
		year, known := d.Latest()
		if !known {
			return
		}
		newest = append(newest, dated{year, d.Pos})
		for i := len(newest) - 1; i > 0 && newest[i].year > newest[i-1].year; i-- {
			newest[i], newest[i-1] = newest[i-1], newest[i]
		}
		newest = newest[:min(len(newest), othersWanted+1)]
	}
	for _, day := range ref.Days() {
		note(day)
	}
	return newest
}
