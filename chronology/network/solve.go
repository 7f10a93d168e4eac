package network

import "slices"

// label is how far a point lies from the origin by the tightest walk, and
// over how many edges. Of walks that are equally tight the shorter one counts,
// so that explanations are short. A walk of -1 edges says that there is none.
type label struct {
	dist int64
	hops int32
}

// nowhere is the label of a point that no walk reaches.
var nowhere = label{hops: -1}

// over gives the label at the far end of an arc.
func (l label) over(a arc) label { return label{l.dist + int64(a.max), l.hops + 1} }

// under says that l is tighter than m, or as tight over fewer edges.
func (l label) under(m label) bool {
	return m.hops < 0 || l.dist < m.dist || l.dist == m.dist && l.hops < m.hops
}

// arc is one edge seen from one of its ends.
type arc struct {
	to   int32
	max  int32
	edge int32 // index into the part's edges
}

// view holds the arcs that leave each point: arcs[head[i]:head[i+1]].
type view struct {
	head []int32
	arcs []arc
}

func (v view) from(i int32) []arc { return v.arcs[v.head[i]:v.head[i+1]] }

// solver works out one part at a time and reuses its memory for the next.
type solver struct {
	part
	along, against view // edges in their own direction, and turned round

	// Strongly connected blocks, origin left out. Every edge between blocks
	// leads to an earlier one: block b is order[blockAt[b]:blockAt[b+1]].
	order, blockAt, block []int32

	late, early []label // distance from the origin, and to it
	active      []bool
	by, mark    []int32 // memory of clashes
	tarjan      tarjan
}

// solve works out the part. It gives false where the part contradicts itself.
func (s *solver) solve(p part) bool {
	s.part = p
	s.along.build(p, false)
	s.against.build(p, true)
	s.findBlocks()
	s.active = resized(s.active, len(p.points))
	for b := range len(s.blockAt) - 1 {
		if s.clashes(int32(b)) {
			return false
		}
	}
	s.late = s.spread(s.late, s.along, true)
	for _, e := range p.edges {
		if l := s.late[e.From]; e.To == Origin && l.hops >= 0 && l.dist+int64(e.Max) < 0 {
			return false
		}
	}
	s.early = s.spread(s.early, s.against, false)
	return true
}

// build fills the view with the part's edges, each seen from its From end or,
// turned, from its To end.
func (v *view) build(p part, turned bool) {
	ends := func(e *Edge) (from, to Point) {
		if turned {
			return e.To, e.From
		}
		return e.From, e.To
	}
	k := len(p.points)
	v.head = resized(v.head, k+1)
	for i := range p.edges {
		from, _ := ends(&p.edges[i])
		v.head[from+1]++
	}
	for i := range k {
		v.head[i+1] += v.head[i]
	}
	v.arcs = slices.Grow(v.arcs[:0], len(p.edges))[:len(p.edges)]
	for i := len(p.edges) - 1; i >= 0; i-- {
		from, to := ends(&p.edges[i])
		v.head[from+1]--
		v.arcs[v.head[from+1]] = arc{to: int32(to), max: p.edges[i].Max, edge: int32(i)}
	}
	copy(v.head, v.head[1:])
	v.head[k] = int32(len(p.edges))
}

// resized gives a slice of that many zero values, in the old memory where it is large enough.
func resized[T any](old []T, size int) []T {
	fresh := slices.Grow(old[:0], size)[:size]
	clear(fresh)
	return fresh
}

// spread gives every point's tightest distance from the origin over the view.
// Blocks are settled one after the other, so that an edge between blocks is
// used once. No block may hold a negative cycle.
func (s *solver) spread(labels []label, v view, lastBlockFirst bool) []label {
	labels = slices.Grow(labels[:0], len(s.points))[:len(s.points)]
	for i := range labels {
		labels[i] = nowhere
	}
	labels[Origin] = label{}
	for _, a := range v.from(int32(Origin)) {
		if l := labels[Origin].over(a); a.to != int32(Origin) && l.under(labels[a.to]) {
			labels[a.to] = l
		}
	}
	for b := range len(s.blockAt) - 1 {
		if lastBlockFirst {
			b = len(s.blockAt) - 2 - b
		}
		s.settle(labels, v, int32(b))
	}
	return labels
}

// settle sweeps one block until nothing changes, then passes its labels on.
func (s *solver) settle(labels []label, v view, b int32) {
	members := s.order[s.blockAt[b]:s.blockAt[b+1]]
	if len(members) > 1 {
		for _, i := range members {
			s.active[i] = labels[i].hops >= 0
		}
		for forth := true; s.sweep(labels, nil, v, members, forth); forth = !forth {
		}
	}
	for _, i := range members {
		if labels[i].hops < 0 {
			continue
		}
		for _, a := range v.from(i) {
			if a.to == int32(Origin) || s.block[a.to] == b {
				continue
			}
			if l := labels[i].over(a); l.under(labels[a.to]) {
				labels[a.to] = l
			}
		}
	}
}

// sweep relaxes the arcs that leave the block's active points, and says
// whether any label changed. Sweeps go forth and back in turn, which settles
// long chains in few of them (J. Y. Yen, 1970). Where by is given it notes
// the arc that last changed each label, as its index in the view.
func (s *solver) sweep(labels []label, by []int32, v view, members []int32, forth bool) (changed bool) {
	for n := range members {
		if !forth {
			n = len(members) - 1 - n
		}
		i := members[n]
		if !s.active[i] {
			continue
		}
		s.active[i] = false
		for _, a := range v.from(i) {
			if a.to == int32(Origin) || s.block[a.to] != s.block[i] {
				continue
			}
			if l := labels[i].over(a); l.under(labels[a.to]) {
				labels[a.to], s.active[a.to], changed = l, true, true
				if by != nil {
					by[a.to] = a.edge
				}
			}
		}
	}
	return changed
}
