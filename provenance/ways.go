package provenance

import (
	"slices"

	"yearmark/schema"
)

// Support is one citation and the ways that lead from it to origins.
type Support struct {
	Cite   schema.Citation
	Chance float64 // that some way from it consists of reliable sources only, from 0 to 1
	Ways   []Way   // the likeliest first; none where it leads to no origin
	More   bool    // there are more ways than these
}

// Way leads from a source cited to an origin.
type Way struct {
	Sources []string // their identifiers, an example's as "example-ID"; the origin alone where that is cited
	// Place is the place cited, where the record says of it whether it is the
	// writer's own or what it took from elsewhere; nil where what is said holds
	// of the source as a whole.
	Place *schema.SourcePlace
}

// mostShown is how many ways of one citation are given.
const mostShown = 6

// Supports gives what each of the citations goes back to, in their order.
func (w *Weighing) Supports(cites []schema.Citation) []Support {
	list := make([]Support, 0, len(cites))
	for _, c := range cites {
		list = append(list, w.support(c))
	}
	return list
}

func (w *Weighing) support(c schema.Citation) Support {
	g, n := w.graph(), w.networkOf([]schema.Citation{c})
	s := Support{Cite: c, Chance: n.chances().pro}
	ways := n.likeliestWays(n.pro, mostShown+1)
	s.More = len(ways) > mostShown
	for _, events := range ways[:min(len(ways), mostShown)] {
		var way Way
		for _, e := range events {
			way.Sources = append(way.Sources, g.nodes[n.events[e].draw].id)
		}
		if p := g.passage(n.events[events[0]].entry); p.states() {
			way.Place = p.place
		}
		s.Ways = append(s.Ways, way)
	}
	return s
}

// networkOf gives the network of a statement for which these are cited.
func (w *Weighing) networkOf(cites []schema.Citation) *network {
	g := w.graph()
	return g.build(g.cited(cites, w.skip), nil, nil)
}

// Through gives the source that every way from the citations goes through, of
// several the one nearest to the origins; ok is false where there is none.
func (w *Weighing) Through(cites []schema.Citation) (id string, ok bool) {
	n := w.networkOf(cites)
	ways := n.likeliestWays(n.pro, 1)
	if len(ways) == 0 {
		return "", false
	}
	for _, e := range slices.Backward(ways[0]) {
		open := n.reachedFrom(n.pro)
		for i := range n.events {
			open[i] = open[i] && n.events[i].draw != n.events[e].draw
		}
		if n.disjointWays(n.pro, open) == 0 {
			return w.graph().nodes[n.events[e].draw].id, true
		}
	}
	return "", false
}

// Origins gives the sources that the facts of a source come from in the end, by
// identifier: itself if it relies on nothing, none where sources rely on each
// other alone, or where there is no such source. The identifier may also be an
// example's, as "example-ID".
func (w *Weighing) Origins(id string) []string {
	var ids []string
	n := w.networkOf([]schema.Citation{{Source: id}})
	for i := range n.events {
		if n.events[i].origin {
			ids = append(ids, w.graph().nodes[n.events[i].draw].id)
		}
	}
	slices.Sort(ids)
	return slices.Compact(ids)
}
