package provenance

import (
	"slices"
	"sync"
	"sync/atomic"

	"yearmark/schema"
)

// Renew gives what Weigh would of a later state of the reference, and weighs
// anew only claims that changed or rest on what changed. A record is taken to
// be unchanged if it is the very same one. The weighing itself stays as it is.
func (w *Weighing) Renew(ref *schema.Reference) *Weighing {
	if w.base != nil || w.skip != nil || !w.graph().fits(ref) {
		return Weigh(ref)
	}
	changed := w.graph().replaced(ref)
	made := w.graph().with(changed)
	u := &Weighing{ref: ref, graph: func() *graph { return made }}
	u.reliance = sync.OnceValue(func() *reliance { return newReliance(ref) })
	names := w.graph().naming(changed)
	u.standings = make([]atomic.Pointer[Standing], u.numberClaims())
	takeOver := func(from, to int32, claims int) {
		for i := range int32(claims) {
			if standing := w.standings[from+i].Load(); standing != nil && !names(standing) {
				u.standings[to+i].Store(standing)
			}
		}
	}
	for m, to := range u.ofModel {
		if from, same := w.ofModel[m]; same {
			takeOver(from, to, len(m.Claims()))
		}
	}
	for m, to := range u.ofMaker {
		if from, same := w.ofMaker[m]; same {
			takeOver(from, to, len(m.Claims()))
		}
	}
	return u
}

// StandAsIn says that what a model's claims say of its features is known to
// stand here as in another weighing, without weighing any of it.
func (w *Weighing) StandAsIn(other *Weighing, m *schema.Model) bool {
	for _, claims := range [][]*schema.Claim{m.Features, m.Specs} {
		for _, c := range claims {
			here, known := w.numberOf(c)
			there, also := other.numberOf(c)
			if !known || !also {
				return false
			}
			if s := w.standings[here].Load(); s == nil || s != other.standings[there].Load() {
				return false
			}
		}
	}
	return true
}

// fits says that the sources and examples of a later state make the same
// graph: as many, of the same names, believed as much and relying on the same.
func (g *graph) fits(ref *schema.Reference) bool {
	sources, examples := ref.Sources.All(), ref.Examples.All()
	if len(sources)+len(examples) != len(g.nodes) {
		return false
	}
	for i, s := range sources {
		n := &g.nodes[i]
		if n.source == nil || n.source != s && !alike(n.source, s) || n.credence != credence(ref, schema.SourceKind(s.Kind.Value)) {
			return false
		}
	}
	examined := credence(ref, schema.ExaminedExample)
	for i, e := range examples {
		n := &g.nodes[len(sources)+i]
		if n.example == nil || n.example.ID != e.ID || n.credence != examined {
			return false
		}
	}
	return true
}

// alike says that two sources have the same name and rely on the same.
func alike(a, b *schema.Source) bool {
	return a.ID == b.ID && slices.EqualFunc(a.ReliesOn, b.ReliesOn, func(x, y schema.Text) bool { return x.Value == y.Value })
}

// replaced gives the nodes whose records are not the very same in a later
// state that fits, as they then are.
func (g *graph) replaced(ref *schema.Reference) map[int32]node {
	list := map[int32]node{}
	for i, s := range ref.Sources.All() {
		if n := g.nodes[i]; n.source != s {
			n.source = s
			list[int32(i)] = n
		}
	}
	for i, e := range ref.Examples.All() {
		at := int32(ref.Sources.Len() + i)
		if n := g.nodes[at]; n.example != e {
			n.example = e
			list[at] = n
		}
	}
	return list
}

// with gives the graph with some nodes in the place of those before.
func (g *graph) with(changed map[int32]node) *graph {
	if len(changed) == 0 {
		return g
	}
	made := &graph{nodes: slices.Clone(g.nodes), byID: g.byID, groups: g.groups}
	for i, n := range changed {
		made.nodes[i] = n
	}
	for i := range changed {
		if members := made.groups[made.nodes[i].group]; made.nodes[members[0]].origin != nil {
			made.nameOrigin(members)
		}
	}
	return made
}

// naming says of a standing whether it names the records of some nodes.
func (g *graph) naming(changed map[int32]node) func(*Standing) bool {
	if len(changed) == 0 {
		return func(*Standing) bool { return false }
	}
	sources, examples := map[*schema.Source]bool{}, map[*schema.Example]bool{}
	for i := range changed {
		sources[g.nodes[i].source], examples[g.nodes[i].example] = true, true
	}
	delete(sources, nil)
	delete(examples, nil)
	names := func(w Witness) bool {
		return sources[w.Origin.Source] || examples[w.Origin.Example] ||
			slices.ContainsFunc(w.Origin.Ring, func(s *schema.Source) bool { return sources[s] })
	}
	return func(s *Standing) bool {
		return slices.ContainsFunc(s.For, names) || slices.ContainsFunc(s.Against, names)
	}
}
