package network

import "slices"

// clash says that a negative cycle of at most so many edges runs through each of the points.
type clash struct {
	points []int32
	hops   int
}

// innerClash looks for a negative cycle inside one block, the origin left out.
func (s *solver) innerClash(b int32) *clash {
	members := s.order[s.blockAt[b]:s.blockAt[b+1]]
	if len(members) == 1 {
		for _, a := range s.along.from(members[0]) {
			if a.to == members[0] && a.max < 0 {
				return &clash{points: members[:1:1], hops: 1}
			}
		}
		return nil
	}
	s.late = slices.Grow(s.late[:0], len(s.points))[:len(s.points)]
	s.by = slices.Grow(s.by[:0], len(s.points))[:len(s.points)]
	s.mark = slices.Grow(s.mark[:0], len(s.points))[:len(s.points)]
	for _, i := range members {
		s.late[i], s.active[i], s.by[i] = label{}, true, -1
	}
	forth := true
	for s.sweep(s.late, s.by, s.along, members, forth) {
		if points := s.ring(members); points != nil {
			return &clash{points: points, hops: len(points)}
		}
		forth = !forth
	}
	return nil
}

// ring follows the edges that last changed each label back from every member
// and gives the points of a ring of them, if there is one. Such a ring is a
// negative cycle, and where there is a negative cycle such a ring appears.
func (s *solver) ring(members []int32) []int32 {
	for _, i := range members {
		s.mark[i] = 0
	}
	for n, start := range members {
		walk, i := int32(n+1), start
		for i >= 0 && s.mark[i] == 0 {
			s.mark[i] = walk
			i = s.before(i)
		}
		if i < 0 || s.mark[i] != walk {
			continue
		}
		points := []int32{i}
		for j := s.before(i); j != i; j = s.before(j) {
			points = append(points, j)
		}
		slices.Sort(points)
		return points
	}
	return nil
}

// before gives the point from which the label of i was last changed, or -1.
func (s *solver) before(i int32) int32 {
	if s.by[i] < 0 {
		return -1
	}
	return int32(s.edges[s.by[i]].From)
}

// tries is the greatest number of points of a clash from which a shorter cycle is sought.
const tries = 64

// shortest gives the edges of a negative cycle through one of the clash's
// points, in order, over as few edges as any.
func (s *solver) shortest(c *clash) []Edge {
	var best []int32
	most := c.hops
	for _, i := range c.points[:min(len(c.points), tries)] {
		if found := s.cycleThrough(i, most); found != nil {
			best, most = found, len(found)-1
		}
	}
	cycle := make([]Edge, len(best))
	for i, e := range best {
		cycle[i] = s.world(s.edges[e])
	}
	return fromLowest(cycle)
}

// fromLowest turns the cycle so that it begins at its lowest point, the origin if it goes there.
func fromLowest(cycle []Edge) []Edge {
	first := 0
	for i, e := range cycle {
		if e.From < cycle[first].From {
			first = i
		}
	}
	return append(slices.Clone(cycle[first:]), cycle[:first]...)
}

// step is one edge of a walk, and the step before it.
type step struct {
	at   int32 // point reached
	dist int64
	edge int32
	back int32
}

// cycleThrough gives the edges of the negative cycle through a point that has
// the fewest, at most so many, or nil. Walks are made longer by one edge at a
// time; a walk from a point other than the origin stays off the origin.
func (s *solver) cycleThrough(source int32, most int) []int32 {
	steps := []step{{at: source, back: -1}}
	last := slices.Repeat([]int32{-1}, len(s.points))
	front := []int32{0}
	for range most {
		home, least := step{}, int64(0)
		made := int32(len(steps))
		for _, n := range front {
			from := steps[n]
			for _, a := range s.along.from(from.at) {
				next := step{at: a.to, dist: from.dist + int64(a.max), edge: a.edge, back: n}
				switch {
				case a.to == source:
					if next.dist < least {
						home, least = next, next.dist
					}
				case s.beside(source, a.to) && (last[a.to] < 0 || next.dist < steps[last[a.to]].dist):
					last[a.to] = int32(len(steps))
					steps = append(steps, next)
				}
			}
		}
		if least < 0 {
			return edgesTo(steps, home)
		}
		front = front[:0]
		for n := made; n < int32(len(steps)); n++ {
			if last[steps[n].at] == n {
				front = append(front, n)
			}
		}
	}
	return nil
}

// beside says that a walk from the source and back may pass the point.
func (s *solver) beside(source, i int32) bool {
	return i != int32(Origin) && (source == int32(Origin) || s.block[i] == s.block[source])
}

// edgesTo gives the edges of the walk that ends in a step, first to last.
func edgesTo(steps []step, end step) []int32 {
	var edges []int32
	for ; end.back >= 0; end = steps[end.back] {
		edges = append(edges, end.edge)
	}
	slices.Reverse(edges)
	return edges
}
