package chronology

import (
	"slices"

	"yearmark/schema"
	"yearmark/schema/edtf"
)

// state gives every claim its stated years, and the claim that holds it: of a
// model's claims its made span, of a made span and of what a maker's record says
// of all its models the maker's trading.
func (g *group) state() {
	trading, next := map[string]int{}, 0
	for _, m := range g.component.makers {
		if m.Trading != nil {
			trading[m.ID] = next
		}
		for _, c := range m.Claims() {
			y := &g.claims[next]
			y.holder, y.era = none, none
			if t, ok := trading[m.ID]; ok && c.FeatureID() != "" {
				y.holder = int32(t)
			}
			g.stateOne(next)
			next++
		}
	}
	for _, m := range g.component.models {
		made := none
		for first := next; next < len(g.component.claims) && g.component.claims[next].Model == m; next++ {
			c, y := g.component.claims[next], &g.claims[next]
			y.holder, y.era = int32(made), none
			if c == m.Made {
				if t, ok := trading[m.Maker.Value]; ok {
					y.holder = int32(t)
				}
				made = next
			}
			if n := eraOf(c); n != none {
				y.era = int32(first + n)
			}
			g.stateOne(next)
		}
	}
}

// stateOne states one claim. Its holder and its era come before it.
func (g *group) stateOne(i int) {
	c, y := g.component.claims[i], &g.claims[i]
	within := g.within(y)
	switch {
	case g.skip != nil && !g.counts(c.Citations()):
		y.absent = true
		y.stated = g.keep(edtf.Years{A: 1, B: 0, C: 1, D: 0})
	case !c.Span.IsZero() && g.counts(c.Cites):
		stated := c.Span.Years(edtf.Frame{Horizon: within, Made: within, Circa: g.plan.circa})
		if c.Span.Shape() == edtf.Interval {
			y.openStart, y.openEnd = c.Span.OpenStart(), c.Span.OpenEnd()
		}
		if c.About == schema.AboutMade {
			within = g.plan.horizon
		}
		y.stated = g.keep(g.lean(y, stated.Cut(within)))
	case c.Span.IsZero() && y.era != none && !g.claims[y.era].absent && g.counts(c.Cites):
		y.stated = g.claims[y.era].stated
	default:
		y.stated = g.keep(g.seen(c, within))
	}
}

// lean makes an end written ".." as certain as the end of what holds the claim.
func (g *group) lean(c *claimYears, y edtf.Years) edtf.Years {
	if c.holder == none || y.Empty() {
		return y
	}
	held := g.stated(int(c.holder))
	if held.Empty() {
		return y
	}
	if c.openStart {
		y.A, y.B = held.A, min(held.B, y.D)
	}
	if c.openEnd {
		y.C, y.D = max(held.C, y.A), max(held.D, y.A)
	}
	return y
}

// eraOf gives the number among its model's claims of the era that a claim
// refers to, or none.
func eraOf(c *schema.Claim) int {
	if c.Era.Value == "" {
		return none
	}
	n := slices.IndexFunc(c.Model.Eras, func(e *schema.Claim) bool { return e.ID.Value == c.Era.Value })
	if n != none && c.Model.Made != nil {
		n++
	}
	return n
}

// seen gives the years of a claim that has attestations alone: from the first
// year within which it lies to the last, certain from the first attestation to
// the last.
func (g *group) seen(c *schema.Claim, within edtf.Range) edtf.Years {
	y := edtf.Years{A: within.First, B: within.Last, C: within.First, D: within.Last}
	for n := range c.Attested {
		if year := c.Attested[n].Year.Value; within.Has(year) && g.counts(c.Attested[n].Cites) {
			y.B, y.C = min(y.B, year), max(y.C, year)
		}
	}
	return y
}

// counts says that not all of the citations are to be left out. A statement
// that cites nothing counts.
func (g *group) counts(cites []schema.Citation) bool {
	return g.skip == nil || len(cites) == 0 || !all(cites, g.skip)
}

func all(cites []schema.Citation, f func(schema.Citation) bool) bool {
	return !slices.ContainsFunc(cites, func(c schema.Citation) bool { return !f(c) })
}
