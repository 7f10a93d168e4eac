package network

import (
	"math"
	"slices"
)

// Solution holds the tightest years of every point of a consistent network.
type Solution struct {
	late, early []bound // by point; early holds distances to the origin
}

// bound is a distance from or to the origin and the edge that it ends or begins with.
type bound struct {
	dist int64 // unbound where there is none
	by   Edge
}

const unbound = math.MinInt64

func (b bound) known() bool { return b.dist != unbound }

func newSolution(n *Network) *Solution {
	bounds := make([]bound, 2*n.points)
	for i := range bounds {
		bounds[i].dist = unbound
	}
	s := &Solution{late: bounds[:n.points:n.points], early: bounds[n.points:]}
	s.late[Origin].dist, s.early[Origin].dist = 0, 0
	return s
}

// Solve gives the tightest years of every point, or else a conflict of the
// first component that is not consistent. See Resolve for the rest.
func (n *Network) Solve() (*Solution, *Conflict) {
	solution, s := newSolution(n), &solver{}
	for _, p := range new(divider).split(n) {
		if !s.solve(p) {
			c := firstConflict(p)
			return nil, &c
		}
		solution.take(s)
	}
	return solution, nil
}

// firstConflict gives the conflict that the first statements of a part make,
// added in their order, until one contradicts those before it.
func firstConflict(p part) Conflict {
	c, hopeless := newConflictFinder(p)
	if hopeless != nil {
		return *hopeless
	}
	kept := c.given.fork()
	for _, edges := range c.edges {
		if cycle := kept.add(edges); cycle != nil {
			return c.minimal(cycle)
		}
	}
	panic("network: a part that could not be solved contradicts nothing")
}

// take copies what the solver found out about its part.
func (sol *Solution) take(s *solver) {
	for i, q := range s.points {
		if i > 0 {
			sol.late[q], sol.early[q] = s.late[i].bound(), s.early[i].bound()
		}
	}
	// Of several edges that give the same bound over as few edges the first in order is the reason.
	for i := len(s.edges) - 1; i >= 0; i-- {
		e := s.edges[i]
		a := arc{max: e.Max}
		if l := s.late[e.From]; e.To != Origin && l.hops >= 0 && l.over(a) == s.late[e.To] {
			sol.late[s.points[e.To]].by = s.world(e)
		}
		if l := s.early[e.To]; e.From != Origin && l.hops >= 0 && l.over(a) == s.early[e.From] {
			sol.early[s.points[e.From]].by = s.world(e)
		}
	}
}

// bound is the label without its hops, nor yet an edge.
func (l label) bound() bound {
	if l.hops < 0 {
		return bound{dist: unbound}
	}
	return bound{dist: l.dist}
}

// Earliest gives the first year that the point can have, or false where
// nothing bounds it from below.
func (sol *Solution) Earliest(p Point) (year int, ok bool) {
	b := sol.early[p]
	if !b.known() {
		return 0, false
	}
	return int(-b.dist), true
}

// Latest gives the last year that the point can have, or false where nothing
// bounds it from above.
func (sol *Solution) Latest(p Point) (year int, ok bool) {
	b := sol.late[p]
	if !b.known() {
		return 0, false
	}
	return int(b.dist), true
}

// WhyEarliest gives the edges behind the earliest year, from the origin
// outward: the first touches the origin, the last touches p, neighbours share
// a point. No other chain that gives this year is shorter. It is empty where
// the point is not bounded.
func (sol *Solution) WhyEarliest(p Point) []Edge {
	var chain []Edge
	for p != Origin && sol.early[p].known() {
		e := sol.early[p].by
		chain = append(chain, e)
		p = e.To
	}
	slices.Reverse(chain)
	return chain
}

// WhyLatest gives the edges behind the latest year, as WhyEarliest does.
func (sol *Solution) WhyLatest(p Point) []Edge {
	var chain []Edge
	for p != Origin && sol.late[p].known() {
		e := sol.late[p].by
		chain = append(chain, e)
		p = e.From
	}
	slices.Reverse(chain)
	return chain
}
