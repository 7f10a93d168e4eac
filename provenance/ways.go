package provenance

import (
	"cmp"
	"math"
	"slices"

	"yearmark/schema"
)

const examplePrefix = "example-"

// node is a source or an example in the graph of who relies on whom.
type node struct {
	id       string
	source   *schema.Source
	example  *schema.Example
	credence float64
	relies   []int32
	muted    bool    // all that it relies on is left out: it has no facts of its own
	group    int32   // the ring it belongs to, or one of its own
	ways     []way   // one for each origin, in order of origin
	origin   *Origin // where it is the first of those that are one
}

// way is the best way from a node to one origin.
type way struct {
	origin   int32
	next     int32 // the next node on the way, or -1 at the origin
	credence float64
}

type graph struct {
	nodes  []node
	byID   map[string]int32
	groups [][]int32 // members in order of identifier; what a group relies on comes before it
}

// newGraph links every source and example of ref and finds the ways from
// each to its origins. A reliance that skip names counts for nothing.
func newGraph(ref *schema.Reference, skip func(schema.Citation) bool) *graph {
	g := &graph{byID: make(map[string]int32, ref.Sources.Len()+ref.Examples.Len())}
	for _, s := range ref.Sources.All() {
		g.add(node{id: s.ID, source: s, credence: credence(ref, schema.SourceKind(s.Kind.Value))})
	}
	for _, e := range ref.Examples.All() {
		g.add(node{id: examplePrefix + e.ID, example: e, credence: credence(ref, schema.ExaminedExample)})
	}
	for i, s := range ref.Sources.All() {
		g.link(int32(i), s, skip)
	}
	g.findGroups()
	for _, members := range g.groups {
		g.findWays(members)
	}
	return g
}

// add gives n a place, unless a source of the same name has it already.
func (g *graph) add(n node) {
	if _, taken := g.byID[n.id]; !taken {
		g.byID[n.id] = int32(len(g.nodes))
	}
	g.nodes = append(g.nodes, n)
}

func (g *graph) link(from int32, s *schema.Source, skip func(schema.Citation) bool) {
	n, skipped := &g.nodes[from], false
	for _, name := range s.ReliesOn {
		to, known := g.byID[name.Value]
		if !known {
			continue // the reader has said so
		}
		if skip != nil && skip(schema.Citation{Source: name.Value, Pos: name.Pos}) {
			skipped = true
			continue
		}
		n.relies = append(n.relies, to)
	}
	slices.Sort(n.relies)
	n.relies = slices.Compact(n.relies)
	n.muted = skipped && len(n.relies) == 0
}

// credence is the editor's figure for a kind of source, or the default; a
// kind that nobody knows counts as the least believed.
func credence(ref *schema.Reference, kind schema.SourceKind) float64 {
	if c, ok := ref.Settings.Judgement.Credence[kind]; ok && !math.IsNaN(c.Value) {
		return min(max(c.Value, 0), 1)
	}
	if c, ok := schema.DefaultJudgement().Credence[kind]; ok {
		return c.Value
	}
	return schema.DefaultJudgement().Credence[schema.Recollection].Value
}

// isRing says whether the group is more than one source that stands alone.
func (g *graph) isRing(members []int32) bool {
	if len(members) > 1 {
		return true
	}
	_, self := slices.BinarySearch(g.nodes[members[0]].relies, members[0])
	return self
}

// findWays finds the best ways of one group's members, once those of all that
// the group relies on are known. Inside a ring it goes round until nothing
// gets better, which takes at most as many rounds as the ring has members.
func (g *graph) findWays(members []int32) {
	if !g.leavesGroup(members) {
		g.makeOrigin(members)
		return
	}
	for range members {
		better := false
		for _, m := range members {
			better = g.improve(m) || better
		}
		if !better {
			return
		}
	}
}

func (g *graph) leavesGroup(members []int32) bool {
	for _, m := range members {
		for _, to := range g.nodes[m].relies {
			if g.nodes[to].group != g.nodes[m].group {
				return true
			}
		}
	}
	return false
}

// makeOrigin makes the group one origin. A ring is believed as little as its
// least believed member, since nobody can tell which of them had the facts.
func (g *graph) makeOrigin(members []int32) {
	least := math.Inf(1)
	for _, m := range members {
		if g.nodes[m].muted {
			return
		}
		least = min(least, g.nodes[m].credence)
	}
	for _, m := range members {
		g.nodes[m].ways = []way{{origin: members[0], next: -1, credence: least}}
	}
	g.nameOrigin(members)
}

// nameOrigin says what a group is that is one origin.
func (g *graph) nameOrigin(members []int32) {
	n := &g.nodes[members[0]]
	switch {
	case n.example != nil:
		n.origin = &Origin{Example: n.example}
	case g.isRing(members):
		n.origin = &Origin{Ring: g.round(members)}
	default:
		n.origin = &Origin{Source: n.source}
	}
}

// improve takes over the ways of all that n relies on and says whether any
// of its own became better.
func (g *graph) improve(n int32) bool {
	at, better := &g.nodes[n], false
	for _, to := range at.relies {
		for _, w := range g.nodes[to].ways {
			c := min(at.credence, w.credence)
			i, found := slices.BinarySearchFunc(at.ways, w.origin, func(w way, o int32) int { return cmp.Compare(w.origin, o) })
			switch {
			case !found:
				at.ways = slices.Insert(at.ways, i, way{w.origin, to, c})
			case c > at.ways[i].credence:
				at.ways[i] = way{w.origin, to, c}
			default:
				continue
			}
			better = true
		}
	}
	return better
}

// via gives the identifiers on the best way from a node to an origin.
func (g *graph) via(from, origin int32) []string {
	var ids []string
	for at := from; at >= 0 && len(ids) <= len(g.nodes); {
		ids = append(ids, g.nodes[at].id)
		i, _ := slices.BinarySearchFunc(g.nodes[at].ways, origin, func(w way, o int32) int { return cmp.Compare(w.origin, o) })
		at = g.nodes[at].ways[i].next
	}
	return ids
}
