package checks

import (
	"fmt"

	"yearmark/schema"
)

var sourceRing = Check{
	Name: "source-ring", Family: Provenance, Level: Warning,
	Meaning: "Sources rely on each other in a ring, so that nobody can tell which of them had the fact first. Where none of them relies on anything outside the ring they have no origin, and what cites them alone is believed not at all.",
	Example: `# sources/bulletin-12.md
relies-on: [wells-book]
# sources/wells-book.md
relies-on: [bulletin-12]
→ 2 sources rely on each other in a ring that has no origin: they count for nothing`,
	Remedy: "Find out which came first, and take the later one out of the earlier one's relies-on. Where only some pages copy, say so of those pages, under places: in the source's record.",
	Run: func(p *Pass) {
		for _, ring := range p.Weighing.Rings() {
			message := fmt.Sprintf("%d sources rely on each other in a ring", len(ring.Sources))
			if len(ring.Sources) == 1 {
				message = fmt.Sprintf("%s is said to rely on itself", quote(ring.Sources[0].ID))
			}
			switch {
			case ring.Grounded:
			case len(ring.Sources) == 1:
				message += " and has no origin: it counts for nothing"
			default:
				message += " that has no origin: they count for nothing"
			}
			p.Report(Finding{Pos: p.nextIn(ring.Sources, 0), Message: message, Why: p.steps(ring.Sources)})
		}
	},
}

// nextIn is the place where a source of the ring names the next one.
func (p *Pass) nextIn(ring []*schema.Source, i int) schema.Pos {
	return p.reliancePos(ring[i].ID, ring[(i+1)%len(ring)].ID)
}

func (p *Pass) steps(ring []*schema.Source) []Place {
	var why []Place
	for i, s := range ring {
		if len(ring) == 1 {
			break
		}
		why = append(why, Place{Pos: p.nextIn(ring, i), Message: fmt.Sprintf("%s relies on %s", s.Title(), ring[(i+1)%len(ring)].Title())})
	}
	return why
}
