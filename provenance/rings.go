package provenance

import (
	"cmp"
	"slices"

	"yearmark/schema"
)

// Ring is sources that rely on one another, in the order of one shortest way
// round that starts at the first by name; those that it leaves out follow by name.
type Ring struct {
	Sources  []*schema.Source
	Grounded bool // some of them rely on something outside that leads to an origin
}

// Rings gives every group of sources that rely on one another, each once, by
// the name of its first member. A source that relies on itself is a ring of one.
func (w *Weighing) Rings() []Ring {
	g := w.graph()
	var rings []Ring
	relies := func(i int32) []int32 { return g.nodes[i].whole.relies }
	for _, members := range components(len(g.nodes), relies) {
		if len(members) > 1 || slices.Contains(relies(members[0]), members[0]) {
			rings = append(rings, g.ring(members))
		}
	}
	slices.SortFunc(rings, func(a, b Ring) int { return cmp.Compare(a.Sources[0].ID, b.Sources[0].ID) })
	return rings
}

func (g *graph) ring(members []int32) Ring {
	order := g.shortestRound(members)
	for _, m := range members {
		if !slices.Contains(order, m) {
			order = append(order, m)
		}
	}
	r := Ring{Grounded: g.nodes[members[0]].whole.grounded}
	for _, n := range order {
		r.Sources = append(r.Sources, g.nodes[n].source)
	}
	return r
}

// shortestRound goes breadth first from the first of the members through them
// until it meets it again.
func (g *graph) shortestRound(members []int32) []int32 {
	start := members[0]
	from := map[int32]int32{}
	queue := []int32{start}
	for len(queue) > 0 {
		n := queue[0]
		queue = queue[1:]
		for _, to := range g.nodes[n].whole.relies {
			if to == start {
				return wayBack(from, n, start)
			}
			_, seen := from[to]
			if _, member := slices.BinarySearch(members, to); member && !seen {
				from[to] = n
				queue = append(queue, to)
			}
		}
	}
	return []int32{start}
}

func wayBack(from map[int32]int32, n, start int32) []int32 {
	order := []int32{n}
	for n != start {
		n = from[n]
		order = append(order, n)
	}
	slices.Reverse(order)
	return order
}
