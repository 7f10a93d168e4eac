package chronology

import (
	"fmt"

	"yearmark/chronology/network"
	"yearmark/schema"
	"yearmark/schema/edtf"
)

// Side is one of the four years of a claim.
type Side uint8

// The four years, as A, B, C and D of edtf.Years.
const (
	EarliestStart Side = iota
	LatestStart
	EarliestEnd
	LatestEnd
)

// Bound is a year that no record states, and the statements that it follows
// from, in order: the first is about a year, each further one leads on from it.
type Bound struct {
	Side  Side
	Year  int
	Steps []Step
}

// String words the year: "not after 1966".
func (b Bound) String() string {
	switch b.Side {
	case EarliestStart:
		return fmt.Sprintf("not before %d", b.Year)
	case LatestStart:
		return fmt.Sprintf("from %d at the latest", b.Year)
	case EarliestEnd:
		return fmt.Sprintf("until %d at least", b.Year)
	}
	return fmt.Sprintf("not after %d", b.Year)
}

// Why explains each year of a claim that is tighter than stated. Of a claim to
// one of several years it explains the first and the last of them.
func (t *Timeline) Why(c *schema.Claim) []Bound {
	g, i, ok := t.find(c)
	if !ok || !g.derived(i) {
		return nil
	}
	stated, years, at := g.stated(i), g.years(i), interval(i)
	var list []Bound
	add := func(side Side, was, is int, chain func(network.Point) []network.Edge, p network.Point) {
		single := years.Choice == edtf.OneOf && (side == LatestStart || side == EarliestEnd)
		if was != is && !single {
			list = append(list, Bound{Side: side, Year: is, Steps: g.steps(g.runs(chain(p)))})
		}
	}
	add(EarliestStart, stated.A, years.A, g.solution.WhyEarliest, at.Start)
	add(LatestStart, stated.B, years.B, g.solution.WhyLatest, at.Start)
	add(EarliestEnd, stated.C, years.C, g.solution.WhyEarliest, at.End)
	add(LatestEnd, stated.D, years.D, g.solution.WhyLatest, at.End)
	return list
}
