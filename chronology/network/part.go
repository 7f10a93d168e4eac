package network

import "slices"

// part is one component of a network. Its points are renumbered: 0 is the
// origin, i stands for points[i]. Its edges name those numbers, are sorted
// and are all different.
type part struct {
	points  []Point
	edges   []Edge
	choices []choice
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
	for _, c := range p.choices {
		if c.tag == Given || accept(c.tag) {
			kept.choices = append(kept.choices, c)
		}
	}
	return kept
}

// divider splits networks, one after another, in buffers that are used again: the
// parts of one are no longer good once the next is split.
type divider struct {
	group           groups
	pointOf         []int32 // by statement: a point that it is about
	count, size, at []int32 // by point that leads a group: its edges, its points, its part
	local           []Point // by point: its number in its part
	parts           []part
	points          []Point
	edges, dealt    []Edge
	head, next      []int32
}

// components joins the points that edges or statements tie together, the origin left out.
func (d *divider) components(n *Network) {
	d.group.reset(int(n.points))
	d.pointOf = resized(d.pointOf, int(n.highest)+1)
	for _, e := range n.edges {
		if e.From != Origin && e.To != Origin {
			d.group.join(int32(e.From), int32(e.To))
		}
		if p := int32(max(e.From, e.To)); e.Tag != Given && p > 0 {
			if d.pointOf[e.Tag] > 0 {
				d.group.join(d.pointOf[e.Tag], p)
			}
			d.pointOf[e.Tag] = p
		}
	}
}

// split splits a network into its components, in order of their lowest point.
// Points that nothing binds are in no part.
func (d *divider) split(n *Network) []part {
	d.components(n)
	d.count, d.size = resized(d.count, int(n.points)), resized(d.size, int(n.points))
	for _, e := range n.edges {
		d.count[d.group.lead(int32(max(e.From, e.To)))]++
	}
	for q := range n.points {
		d.size[d.group.lead(q)]++
	}
	d.dealPoints(n)
	for _, e := range n.edges {
		p := &d.parts[d.at[d.group.lead(int32(max(e.From, e.To)))]]
		e.From, e.To = d.local[e.From], d.local[e.To]
		p.edges = append(p.edges, e)
	}
	for _, c := range n.choices {
		p := &d.parts[d.at[d.group.lead(int32(c.point))]]
		c.point = d.local[c.point]
		p.choices = append(p.choices, c)
	}
	at := 0
	for i := range d.parts {
		at += d.sort(&d.parts[i], d.dealt[at:])
	}
	return d.parts
}

// dealPoints makes the parts, each with its points and with a buffer for its edges.
func (d *divider) dealPoints(n *Network) {
	d.at, d.local = resized(d.at, int(n.points)), resized(d.local, int(n.points))
	d.points = slices.Grow(d.points[:0], 2*int(n.points))[:2*n.points] // each part has the origin, and no fewer points than itself
	d.edges, d.dealt = resized(d.edges, len(n.edges)), resized(d.dealt, len(n.edges))
	d.parts = d.parts[:0]
	points, edges := 0, 0
	for q := int32(1); q < n.points; q++ {
		lead := d.group.lead(q)
		if d.count[lead] == 0 {
			continue
		}
		if lead == q {
			d.at[q] = int32(len(d.parts))
			past, end := points+int(d.size[q])+1, edges+int(d.count[q])
			p := part{points: d.points[points:points:past], edges: d.edges[edges:edges:end]}
			d.parts = append(d.parts, p)
			d.parts[len(d.parts)-1].points = append(p.points, Origin)
			points, edges = past, end
		}
		p := &d.parts[d.at[lead]]
		d.local[q] = Point(len(p.points))
		p.points = append(p.points, Point(q))
	}
}

// sort puts a part's edges in order, into the buffer given, and drops those that
// say the same; it gives how many there were. It deals them out by the point
// they come from first: most points have few.
func (d *divider) sort(p *part, buffer []Edge) int {
	d.head = resized(d.head, len(p.points)+1)
	for _, e := range p.edges {
		d.head[e.From+1]++
	}
	for i := range p.points {
		d.head[i+1] += d.head[i]
	}
	d.next = append(d.next[:0], d.head...)
	dealt := buffer[:len(p.edges):len(p.edges)]
	for _, e := range p.edges {
		dealt[d.next[e.From]] = e
		d.next[e.From]++
	}
	for i := range p.points {
		slices.SortFunc(dealt[d.head[i]:d.head[i+1]], Edge.compare)
	}
	p.edges = slices.Compact(dealt)
	return len(dealt)
}

// groups is a union of disjoint sets; each set is led by its lowest member.
type groups []int32

// reset puts each of so many members into a set of its own.
func (g *groups) reset(size int) {
	*g = slices.Grow((*g)[:0], size)[:size]
	for i := range *g {
		(*g)[i] = int32(i)
	}
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
