package network

import "slices"

// part is one component of a network. Its points are renumbered: 0 is the
// origin, i stands for points[i]. Its edges name those numbers, are sorted
// and are all different.
type part struct {
	points []Point
	edges  []Edge
}

// world gives the edge between the network's own points.
func (p part) world(e Edge) Edge {
	e.From, e.To = p.points[e.From], p.points[e.To]
	return e
}

// keep gives the part with only those statements that the function accepts.
func (p part) keep(accept func(Tag) bool) part {
	kept := part{points: p.points}
	for _, e := range p.edges {
		if e.Tag == Given || accept(e.Tag) {
			kept.edges = append(kept.edges, e)
		}
	}
	return kept
}

// components joins the points that edges or statements tie together, the origin left out.
func (n *Network) components() groups {
	group := newGroups(int(n.points))
	spokenOf := make([]int32, n.highest+1) // a point that the statement is about
	for _, e := range n.edges {
		if e.From != Origin && e.To != Origin {
			group.join(int32(e.From), int32(e.To))
		}
		if p := int32(max(e.From, e.To)); e.Tag != Given && p > 0 {
			if spokenOf[e.Tag] > 0 {
				group.join(spokenOf[e.Tag], p)
			}
			spokenOf[e.Tag] = p
		}
	}
	return group
}

// parts splits the network into its components, in order of their lowest
// point. Points that nothing binds are in no part.
func (n *Network) parts() []part {
	group := n.components()
	count, size := make([]int32, n.points), make([]int32, n.points) // edges and points of the group that a point leads
	for _, e := range n.edges {
		count[group.lead(int32(max(e.From, e.To)))]++
	}
	for q := range n.points {
		size[group.lead(q)]++
	}
	parts, at := make([]part, 0, 16), make([]int32, n.points)
	local := make([]Point, n.points)
	for q := int32(1); q < n.points; q++ {
		lead := group.lead(q)
		if count[lead] == 0 {
			continue
		}
		if lead == q {
			at[q] = int32(len(parts))
			parts = append(parts, part{points: append(make([]Point, 0, size[q]+1), Origin), edges: make([]Edge, 0, count[q])})
		}
		p := &parts[at[lead]]
		local[q] = Point(len(p.points))
		p.points = append(p.points, Point(q))
	}
	for _, e := range n.edges {
		p := &parts[at[group.lead(int32(max(e.From, e.To)))]]
		e.From, e.To = local[e.From], local[e.To]
		p.edges = append(p.edges, e)
	}
	for i := range parts {
		parts[i].sort()
	}
	return parts
}

// sort puts the edges in order and drops those that say the same. It deals
// them out by the point they come from first: most points have few.
func (p *part) sort() {
	head := make([]int32, len(p.points)+1)
	for _, e := range p.edges {
		head[e.From+1]++
	}
	for i := range p.points {
		head[i+1] += head[i]
	}
	dealt, next := make([]Edge, len(p.edges)), slices.Clone(head)
	for _, e := range p.edges {
		dealt[next[e.From]] = e
		next[e.From]++
	}
	for i := range p.points {
		slices.SortFunc(dealt[head[i]:head[i+1]], Edge.compare)
	}
	p.edges = slices.Compact(dealt)
}

// groups is a union of disjoint sets; each set is led by its lowest member.
type groups []int32

func newGroups(size int) groups {
	g := make(groups, size)
	for i := range g {
		g[i] = int32(i)
	}
	return g
}

func (g groups) lead(i int32) int32 {
	for g[i] != i {
		g[i] = g[g[i]]
		i = g[i]
	}
	return i
}

func (g groups) join(i, j int32) {
	i, j = g.lead(i), g.lead(j)
	if i < j {
		g[j] = i
	} else {
		g[i] = j
	}
}
