package provenance

import (
	"cmp"
	"slices"

	"yearmark/schema"
)

const examplePrefix = "example-"

// node is a source or an example in the graph of who relies on whom.
type node struct {
	id     string
	source *schema.Source // nil of an example
	whole  passage
	places []passage // as in the source's record
}

// passage is how far a source is believed, as a whole or at one of its places,
// and where it has its facts from.
type passage struct {
	place    *schema.SourcePlace // nil of the whole
	credence float64
	relies   []int32 // the sources relied on, rising; an origin relies on none
	mute     bool    // all that it relies on is left out: it has no facts of its own
	grounded bool    // some way from it leads to an origin
}

func (p *passage) isOrigin() bool { return len(p.relies) == 0 && !p.mute }

// states says whether the record says of this very place where it has its facts from.
func (p *passage) states() bool {
	return p.place != nil && (p.place.Own.Value || len(p.place.ReliesOn) > 0)
}

type graph struct {
	nodes []*node // sources, then examples, each by identifier
	byID  map[string]int32
}

// newGraph links every source and example of ref. A reliance that skip names
// counts for nothing.
func newGraph(ref *schema.Reference, skip func(schema.Citation) bool) *graph {
	g := &graph{byID: make(map[string]int32, ref.Sources.Len()+ref.Examples.Len())}
	for _, s := range ref.Sources.All() {
		g.add(&node{id: s.ID, source: s, whole: passage{credence: ref.SourceCredence(s)}})
	}
	for _, e := range ref.Examples.All() {
		g.add(&node{id: examplePrefix + e.ID, whole: passage{credence: ref.KindCredence(schema.ExaminedExample)}})
	}
	for i := range ref.Sources.Len() {
		n := g.nodes[i]
		n.whole.relies, n.whole.mute = g.linked(n.source.ReliesOn, skip)
	}
	g.ground()
	for i := range ref.Sources.Len() {
		n := g.nodes[i]
		for _, place := range n.source.Places {
			n.places = append(n.places, g.placed(ref, n, place, skip))
		}
	}
	return g
}

// without gives the graph as newGraph would make it with skip, of which only the
// touched sources can differ: theirs alone is worked out anew.
func (g *graph) without(ref *schema.Reference, skip func(schema.Citation) bool, touched map[string]bool) *graph {
	changed := &graph{nodes: slices.Clone(g.nodes), byID: g.byID}
	var list []*node
	for id := range touched {
		i := g.byID[id]
		n := *g.nodes[i]
		n.whole.relies, n.whole.mute = g.linked(n.source.ReliesOn, skip)
		n.whole.grounded, n.places = false, nil
		changed.nodes[i] = &n
		list = append(list, &n)
	}
	leads := func(to int32) bool { return changed.nodes[to].whole.grounded }
	for more := true; more; {
		more = false
		for _, n := range list {
			if p := &n.whole; !p.grounded && (p.isOrigin() || slices.ContainsFunc(p.relies, leads)) {
				p.grounded, more = true, true
			}
		}
	}
	for _, n := range list {
		for _, place := range n.source.Places {
			n.places = append(n.places, changed.placed(ref, n, place, skip))
		}
	}
	return changed
}

// add gives n a number, unless a source of the same name has it already.
func (g *graph) add(n *node) {
	if _, taken := g.byID[n.id]; !taken {
		g.byID[n.id] = int32(len(g.nodes))
	}
	g.nodes = append(g.nodes, n)
}

// linked finds the sources named; mute says that there are some and skip names them all.
func (g *graph) linked(names []schema.Text, skip func(schema.Citation) bool) (relies []int32, mute bool) {
	for _, name := range names {
		to, known := g.byID[name.Value]
		switch {
		case !known: // the reader has said so
		case skip != nil && skip(schema.Citation{Source: name.Value, Pos: name.Pos}):
			mute = true
		default:
			relies = append(relies, to)
		}
	}
	slices.Sort(relies)
	return slices.Compact(relies), mute && len(relies) == 0
}

// ground finds the sources from which some way leads to an origin.
func (g *graph) ground() {
	dependents := make([][]int32, len(g.nodes))
	var open []int32
	for i := range g.nodes {
		p := &g.nodes[i].whole
		for _, to := range p.relies {
			dependents[to] = append(dependents[to], int32(i))
		}
		if p.isOrigin() {
			open = append(open, int32(i))
		}
	}
	for len(open) > 0 {
		n := open[len(open)-1]
		open = open[:len(open)-1]
		if p := &g.nodes[n].whole; !p.grounded {
			p.grounded = true
			open = append(open, dependents[n]...)
		}
	}
}

// placed gives what holds at a place of a source.
func (g *graph) placed(ref *schema.Reference, n *node, place *schema.SourcePlace, skip func(schema.Citation) bool) passage {
	p := n.whole
	p.place, p.credence = place, ref.PlaceCredence(n.source, place)
	switch {
	case place.Own.Value:
		p.relies, p.mute, p.grounded = nil, false, true
	case len(place.ReliesOn) > 0:
		p.relies, p.mute = g.linked(place.ReliesOn, skip)
		p.grounded = p.isOrigin() || slices.ContainsFunc(p.relies, func(to int32) bool { return g.nodes[to].whole.grounded })
	}
	return p
}

// entry is what a citation names or a source relies on: a source at one of its
// places, or as a whole.
type entry struct{ node, place int32 }

// whole stands for the place of a source as a whole.
const whole = -1

func compareEntries(a, b entry) int {
	return cmp.Or(cmp.Compare(a.node, b.node), cmp.Compare(a.place, b.place))
}

// passage gives what holds of an entry.
func (g *graph) passage(e entry) *passage {
	if e.place == whole {
		return &g.nodes[e.node].whole
	}
	return &g.nodes[e.node].places[e.place]
}

// cited gives what the citations name that leads to an origin, each once and in
// one order: the places that a citation covers, or the source as a whole where
// its record lists none of them. What skip names is left out, and so is a place
// whose slip its speaker mended.
func (g *graph) cited(cites []schema.Citation, skip func(schema.Citation) bool) []entry {
	var list []entry
	add := func(e entry) {
		if p := g.passage(e); p.grounded && (p.place == nil || p.place.CorrectedAt.Value == "") {
			list = append(list, e)
		}
	}
	for _, cite := range cites {
		n, known := g.byID[cite.Source]
		if !known || skip != nil && skip(cite) {
			continue
		}
		places := g.nodes[n].placesAt(cite.Place)
		if len(places) == 0 {
			add(entry{n, whole})
		}
		for _, at := range places {
			add(entry{n, at})
		}
	}
	slices.SortFunc(list, compareEntries)
	return slices.Compact(list)
}

// placesAt gives the places that a citation covers, by their number.
func (n *node) placesAt(place string) []int32 {
	if len(n.places) == 0 {
		return nil
	}
	var list []int32
	for _, p := range n.source.PlacesAt(place) {
		list = append(list, int32(slices.Index(n.source.Places, p)))
	}
	return list
}
