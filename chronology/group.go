package chronology

import (
	"slices"
	"sync"

	"yearmark/chronology/network"
	"yearmark/schema"
	"yearmark/schema/edtf"
)

// group is a component with its years worked out.
type group struct {
	plan       *plan
	component  *component
	skip       func(schema.Citation) bool
	claims     []claimYears // as in component.claims
	statements []said       // tag t stands for statements[t-1]
	bonds      []bond
	members    [][]int // of sets of years
	solution   *network.Solution
	conflicts  []Conflict
	unsearched []*schema.Claim              // see Timeline.Unsearched
	overruled  map[matter][]schema.Citation // made when first asked for
	partial    bool                         // something was left out
}

// claimYears is what is known of one claim's years.
type claimYears struct {
	stated, years      keptYears
	holder, era        int32       // numbers of the claims that it lies within and that it shares its years with, or none
	span               network.Tag // the statement of its span, or 0
	absent             bool        // left out with the citations that it rests on
	openStart, openEnd bool        // written ".."
}

// keptYears is an edtf.Years in a third of the memory.
type keptYears struct {
	a, b, c, d int32
	members    int32 // the place of its members among the group's, from 1; 0 for none
	choice     edtf.Shape
}

// keep gives years as the group keeps them.
func (g *group) keep(y edtf.Years) keptYears {
	k := keptYears{a: int32(y.A), b: int32(y.B), c: int32(y.C), d: int32(y.D), choice: y.Choice}
	if y.Members != nil {
		g.members = append(g.members, y.Members)
		k.members = int32(len(g.members))
	}
	return k
}

// of gives years that the group keeps.
func (g *group) of(k keptYears) edtf.Years {
	y := edtf.Years{A: int(k.a), B: int(k.b), C: int(k.c), D: int(k.d), Choice: k.choice}
	if k.members > 0 {
		y.Members = g.members[k.members-1]
	}
	return y
}

// stated and years give those of a claim by its number.
func (g *group) stated(i int) edtf.Years { return g.of(g.claims[i].stated) }
func (g *group) years(i int) edtf.Years  { return g.of(g.claims[i].years) }

// none stands for "no holder".
const none = -1

// derived says whether a claim's years are tighter than its record states.
func (g *group) derived(i int) bool {
	s, y := g.stated(i), g.years(i)
	return s.A != y.A || s.B != y.B || s.C != y.C || s.D != y.D || len(s.Members) != len(y.Members)
}

// within gives the years from the first possible to the last of what holds a
// claim, or the horizon.
func (g *group) within(c *claimYears) edtf.Range {
	for h := c.holder; h != none; h = g.claims[h].holder {
		if stated := g.stated(int(h)); !stated.Empty() {
			return edtf.Range{First: stated.A, Last: stated.D}
		}
	}
	return g.plan.horizon
}

// networks are used again from component to component.
var networks = sync.Pool{New: func() any { return network.New() }}

// work solves a component.
func (p *plan) work(of *component, skip func(schema.Citation) bool) *group {
	g := &group{plan: p, component: of, skip: skip, claims: make([]claimYears, len(of.claims)), partial: of.cites(skip)}
	g.state()
	n := networks.Get().(*network.Network)
	defer networks.Put(n)
	n.Reset()
	g.constrain(n)
	r := n.Resolve(network.Policy{Weakness: func(t network.Tag) int { return g.weakness(g.statement(t)) }})
	g.solution = r.Solution
	for _, c := range r.Conflicts {
		g.conflicts = append(g.conflicts, g.conflictOf(c.Cycle, r.Removed, c.Excess()))
	}
	for _, t := range r.Unsearched {
		g.unsearched = append(g.unsearched, g.statement(t).claim)
	}
	g.tighten(r)
	g.skip, g.overruled = nil, nil
	return g
}

// interval gives the two points of a claim: claims are numbered as in the component.
func interval(i int) network.Interval {
	return network.Interval{Start: network.Point(2*i + 1), End: network.Point(2*i + 2)}
}

// tighten takes every claim's years from the solution. Claims whose own
// statement was set aside, or stands in a contradiction that nobody decided,
// keep their years as stated.
func (g *group) tighten(r network.Resolution) {
	inDoubt := map[*schema.Claim]bool{}
	for _, t := range r.Removed {
		g.doubt(inDoubt, t)
	}
	for i, c := range r.Conflicts {
		if !g.conflicts[i].Decided() {
			for _, t := range c.Tags {
				g.doubt(inDoubt, t)
			}
		}
	}
	for i := range g.claims {
		c := &g.claims[i]
		if c.years = c.stated; c.absent || inDoubt[g.component.claims[i]] {
			continue
		}
		if y := g.narrowed(i); !y.Empty() {
			c.years = g.keep(y)
		}
	}
}

// doubt marks the claim whose years a statement gives.
func (g *group) doubt(inDoubt map[*schema.Claim]bool, t network.Tag) {
	switch s := g.statement(t); s.kind {
	case spanned, attested, dated:
		inDoubt[s.claim] = true
	}
}

// narrowed gives a claim's years as the solution has them. The years stay as
// stated where nothing bounds them, and are empty where none is left.
func (g *group) narrowed(i int) edtf.Years {
	c, at, y := &g.claims[i], interval(i), g.stated(i)
	start, ok := g.between(at.Start)
	end, ok2 := g.between(at.End)
	if !ok || !ok2 {
		return y
	}
	if c.openStart {
		y.A, y.B = start.First, start.Last
	}
	if c.openEnd {
		y.C, y.D = end.First, end.Last
	}
	return g.choose(i, y.Narrow(start, end))
}

// choose keeps of a claim to one of several years those that the solution leaves.
func (g *group) choose(i int, y edtf.Years) edtf.Years {
	if era := g.claims[i].era; era != none && g.component.claims[i].Span.IsZero() {
		i = int(era)
	}
	left := g.solution.Years(interval(i).Start)
	if y.Choice != edtf.OneOf || left == nil || y.Empty() {
		return y
	}
	kept := slices.DeleteFunc(slices.Clone(y.Members), func(m int) bool { return !slices.Contains(left, m) })
	return y.Among(kept)
}

// between gives the years that a point can have.
func (g *group) between(p network.Point) (edtf.Range, bool) {
	first, ok := g.solution.Earliest(p)
	last, ok2 := g.solution.Latest(p)
	return edtf.Range{First: first, Last: last}, ok && ok2
}
