package network

import (
	"math"
	"slices"
)

// Solution holds the tightest years of every point of a consistent network.
type Solution struct {
	late, early []bound // by point; early holds distances to the origin
	narrowed    map[Point]narrowed
}

// narrowed is what choices of years make of a point.
type narrowed struct {
	moves  []tightening // of its part, in the network's own points
	newest [2]int32
	years  []int // of a point with choices
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

// Years lists the years, with gaps, that a point has for which Among gave
// choices. It is empty for others, and where Resolve did not search.
func (sol *Solution) Years(p Point) []int { return sol.narrowed[p].years }

// narrow takes over what a search found.
func (sol *Solution) narrow(s *searcher, years map[Point][]int) {
	sol.note(s, years)
	for i, p := range s.points {
		if s.newest[earliest][i] != stated {
			sol.early[p].dist = -s.at[earliest][i]
		}
		if s.newest[latest][i] != stated {
			sol.late[p].dist = s.at[latest][i]
		}
	}
}

// note keeps the reasons that a search found.
func (sol *Solution) note(s *searcher, years map[Point][]int) {
	moves := slices.Clone(s.moves)
	for i := range moves {
		moves[i].why, moves[i].point = s.world(moves[i].why), s.points[moves[i].point]
	}
	if sol.narrowed == nil {
		sol.narrowed = map[Point]narrowed{}
	}
	for i, p := range s.points {
		n := narrowed{moves, [2]int32{s.newest[earliest][i], s.newest[latest][i]}, years[Point(i)]}
		if n.newest != [2]int32{stated, stated} || n.years != nil {
			sol.narrowed[p] = n
		}
	}
}

// WhyEarliest gives the edges behind the earliest year, from the origin
// outward: the first touches the origin, the last touches p, neighbours share
// a point. No other chain that gives this year is shorter. A choice of years
// that moves the year on its way is in the chain as an edge from the origin to
// the point that it is about. It is empty where the point is not bounded.
func (sol *Solution) WhyEarliest(p Point) []Edge { return sol.why(p, earliest) }

// WhyLatest gives the edges behind the latest year, as WhyEarliest does.
func (sol *Solution) WhyLatest(p Point) []Edge { return sol.why(p, latest) }

func (sol *Solution) why(p Point, side int8) []Edge {
	var chain []Edge
	if n, ok := sol.narrowed[p]; ok {
		for at := n.newest[side]; at != stated; at = n.moves[at].cause {
			chain = append(chain, n.moves[at].why)
			p = n.moves[at].point
		}
	}
	return append(sol.behind(p, side), reversed(chain)...)
}

// behind gives the chain of edges alone, without choices.
func (sol *Solution) behind(p Point, side int8) []Edge {
	var chain []Edge
	for p != Origin {
		b := sol.early[p]
		if side == latest {
			b = sol.late[p]
		}
		if !b.known() {
			break
		}
		chain = append(chain, b.by)
		p = b.by.To
		if side == latest {
			p = b.by.From
		}
	}
	return reversed(chain)
}

func reversed(chain []Edge) []Edge {
	slices.Reverse(chain)
	return chain
}
