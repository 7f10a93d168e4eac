package chronology

import (
	"math"

	"yearmark/chronology/network"
	"yearmark/schema"
	"yearmark/schema/edtf"
)

// constrain adds the component's constraints to an empty network.
func (g *group) constrain(n *network.Network) {
	n.Grow(8 * len(g.claims)) // what claims commonly take, so that little is copied
	g.statements = make([]said, 0, 2*len(g.claims))
	for range g.claims {
		n.AddInterval()
	}
	for i, c := range g.component.claims {
		if g.hold(n, i); !g.claims[i].absent {
			g.constrainClaim(n, i, c)
		}
	}
	for o := range g.component.orders {
		if g.counts(o.Cites) {
			g.constrainOrder(n, o)
		}
	}
	for _, m := range g.component.models {
		for _, r := range m.Related {
			if g.counts(r.Cites) {
				g.constrainTie(n, m, r)
			}
		}
	}
}

// hold puts a claim within what holds it, or within the horizon. Both stand
// whatever the records say.
func (g *group) hold(n *network.Network, i int) {
	at := interval(i)
	if h := g.claims[i].holder; h != none {
		n.Within(at, interval(int(h)), network.Given)
		return
	}
	n.NotBefore(at.Start, g.plan.horizon.First, network.Given)
	n.NotAfter(at.End, g.plan.horizon.Last, network.Given)
}

// constrainClaim adds what a claim itself says of its years.
func (g *group) constrainClaim(n *network.Network, i int, c *schema.Claim) {
	at, y, stated := interval(i), &g.claims[i], g.stated(i)
	switch {
	case !g.counts(c.Cites) || stated.Empty():
	case !c.Span.IsZero():
		y.span = g.say(spanned, i, 0)
		if stated.Choice == edtf.OneOf {
			if stated.Members != nil {
				n.Among(at.Start, stated.Members, y.span)
			} else {
				n.Bound(at.Start, stated.A, stated.D, y.span)
			}
			n.Constrain(at.Start, at.End, 0, y.span)
		} else {
			g.constrainSpan(n, i, c)
		}
	case y.era != none && !g.claims[y.era].absent:
		n.Relate(network.Equals, at, interval(int(y.era)), g.say(dated, i, 0))
	}
	for k, a := range c.Attested {
		if year := a.Year.Value; g.plan.horizon.Has(year) && g.counts(a.Cites) {
			tag := g.say(attested, i, k)
			n.NotAfter(at.Start, year, tag)
			n.NotBefore(at.End, year, tag)
		}
	}
	g.constrainSources(n, i, c)
}

// constrainSpan adds the bounds of a span that were neither cut nor left open
// or unknown. An end written ".." is the end of what holds the claim.
func (g *group) constrainSpan(n *network.Network, i int, c *schema.Claim) {
	at, y := interval(i), &g.claims[i]
	within := g.within(y)
	written := c.Span.Years(edtf.Frame{Horizon: within, Made: within, Circa: g.plan.circa})
	if c.About == schema.AboutMade {
		within = g.plan.horizon
	}
	bound := func(p network.Point, lo, hi int) {
		if within.Has(lo) {
			n.NotBefore(p, lo, y.span)
		}
		if within.Has(hi) {
			n.NotAfter(p, hi, y.span)
		}
	}
	_, startWritten := c.Span.Earliest()
	_, endWritten := c.Span.Latest()
	set := written.Choice != edtf.Interval
	switch {
	case startWritten || set:
		bound(at.Start, written.A, written.B)
	case y.openStart && y.holder != none:
		n.Constrain(interval(int(y.holder)).Start, at.Start, 0, y.span)
	}
	switch {
	case endWritten || set:
		bound(at.End, written.C, written.D)
	case y.openEnd && y.holder != none:
		n.Constrain(at.End, interval(int(y.holder)).End, 0, y.span)
	case y.openEnd:
		n.NotBefore(at.End, within.Last, y.span)
	}
}

// constrainSources adds the earliest source that tells of the claim, if it
// says more than the stated years do and does not contradict them.
func (g *group) constrainSources(n *network.Network, i int, c *schema.Claim) {
	stated := g.stated(i)
	if stated.Empty() {
		return
	}
	first, latest := none, stated.B
	for k, cite := range c.Cites {
		year, ok := g.plan.issued[cite.Source]
		if ok && year+1 < latest && year+1 >= stated.A && (g.skip == nil || !g.skip(cite)) {
			first, latest = k, year+1
		}
	}
	if first != none {
		n.NotAfter(interval(i).Start, latest, g.say(issued, i, first))
	}
}

// constrainOrder adds an order statement: a relation, or a length.
func (g *group) constrainOrder(n *network.Network, o *schema.Order) {
	if i, ok := g.number(o.OfClaim); ok && !o.Lasts.IsZero() {
		lo, hi := math.Ceil(o.Lasts.Low), math.Floor(o.Lasts.High)
		if lo <= hi && hi >= 1 && hi < network.Limit {
			n.Lasts(interval(i), int(max(lo, 1)), int(hi), g.tie(lasted, i, bond{order: o}))
		}
	}
	first, ok := g.number(o.FirstClaim)
	second, ok2 := g.number(o.SecondClaim)
	how, ok3 := network.RelationNamed(o.How.Value)
	if ok && ok2 && ok3 {
		n.Relate(how, interval(first), interval(second), g.tie(related, first, bond{other: o.SecondClaim, order: o}))
	}
}

// constrainTie adds a succession of models.
func (g *group) constrainTie(n *network.Network, m *schema.Model, r *schema.Related) {
	other, ok := g.plan.ref.Models.Get(r.Model.Value)
	if !ok || other.Made == nil || m.Made == nil {
		return
	}
	before, after := other.Made, m.Made
	switch r.How.Value {
	case "succeeded-by":
		before, after = after, before
	case "successor-of":
	default:
		return
	}
	i, _ := g.number(before)
	j, _ := g.number(after)
	tag := g.tie(succeeded, j, bond{other: before, tie: r})
	n.Constrain(interval(j).Start, interval(i).Start, -1, tag)
	n.Constrain(interval(j).End, interval(i).End, 0, tag)
}

// number gives a claim's number in the component.
func (g *group) number(c *schema.Claim) (int, bool) {
	if c == nil {
		return 0, false
	}
	at, ok := g.plan.placeOf(c)
	return int(at.claim), ok
}
