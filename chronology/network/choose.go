package network

import (
	"math"
	"slices"
)

// choice says that a point lies in one of some years, because of a statement.
type choice struct {
	point Point
	tag   Tag
	years []int // rising
}

// Among states that p lies in one of the years, which rise; there is at least
// one. They are not copied.
func (n *Network) Among(p Point, years []int, tag Tag) {
	first, last := years[0], years[len(years)-1]
	n.Bound(p, first, last, tag)
	if last-first >= len(years) {
		n.choices = append(n.choices, choice{p, tag, years})
	}
}

// searcher finds which years the choices of a part leave, once its edges alone
// are solved. Of two solutions the later year at each point, and the earlier,
// is a solution too, whatever the years to choose from. So arc-consistent
// bounds are reached by solutions, nothing need be taken back, and a year
// between them is possible exactly where the least solution that is no earlier
// at its point has it there (P. Jeavons and M. Cooper, Tractable constraints on
// ordered domains, Artificial Intelligence 79 (1995) 327-339; from memory).
type searcher struct {
	part
	along, against view
	chosen         map[Point][]choice
	at             [2][]int64 // the earliest and the latest year of each point, or open
	moves          []tightening
	newest         [2][]int32 // by point: its last place in moves, or stated
	queue          []int32    // moves not yet passed on
	left           int        // steps
	crossed        Point      // the point that has no year left, or 0
}

// tightening is one change of a bound.
type tightening struct {
	point Point
	side  int8
	why   Edge  // of a choice: from the origin to the point
	was   int64 // the bound before
	prior int32 // the move before at this bound, or stated
	cause int32 // the move that it follows from, or stated: the bound as the edges alone have it
}

const (
	earliest, latest = 0, 1
	open             = math.MinInt64
	stated           = -1
)

func newSearcher(p part, solution *Solution, steps int) *searcher {
	s := &searcher{part: p, chosen: map[Point][]choice{}, left: steps}
	s.along.build(p, false)
	s.against.build(p, true)
	for side := range s.at {
		s.at[side] = slices.Repeat([]int64{open}, len(p.points))
		s.newest[side] = slices.Repeat([]int32{stated}, len(p.points))
	}
	for i, q := range p.points {
		if year, ok := solution.Earliest(q); ok {
			s.at[earliest][i] = int64(year)
		}
		if year, ok := solution.Latest(q); ok {
			s.at[latest][i] = int64(year)
		}
	}
	for _, c := range p.choices {
		s.chosen[c.point] = append(s.chosen[c.point], c)
	}
	return s
}

// narrow makes every bound arc-consistent. It gives false where a point has no
// year left, or the steps ran out.
func (s *searcher) narrow() bool {
	for _, c := range s.choices {
		if !s.round(c.point, earliest, stated) || !s.round(c.point, latest, stated) {
			return false
		}
	}
	return s.spread()
}

// possible lists the years that a point with choices can have once all bounds
// are arc-consistent. It gives false where the steps ran out.
func (s *searcher) possible(p Point) (years []int, ok bool) {
	c := s.chosen[p][0]
	for _, y := range c.years {
		year := int64(y)
		if year < s.at[earliest][p] || year > s.at[latest][p] {
			continue
		}
		before := len(s.moves)
		if year < s.at[latest][p] && !(s.move(tightening{point: p, cause: stated}, year) && s.spread()) {
			return nil, false
		}
		if year == s.at[latest][p] || s.at[earliest][p] == year {
			years = append(years, y)
		}
		s.undo(before)
	}
	return years, true
}

// undo takes back all moves but so many.
func (s *searcher) undo(keep int) {
	for _, m := range slices.Backward(s.moves[keep:]) {
		s.at[m.side][m.point], s.newest[m.side][m.point] = m.was, m.prior
	}
	s.moves = s.moves[:keep]
}

// spread carries moves on along the edges until nothing changes.
func (s *searcher) spread() bool {
	for len(s.queue) > 0 {
		n := s.queue[0]
		s.queue = s.queue[1:]
		m := s.moves[n]
		if s.newest[m.side][m.point] != n {
			continue
		}
		view, sign := s.against, int64(-1)
		if m.side == latest {
			view, sign = s.along, 1
		}
		for _, a := range view.from(int32(m.point)) {
			if s.left--; s.left < 0 {
				return false
			}
			next := tightening{point: Point(a.to), side: m.side, why: s.edges[a.edge], cause: n}
			if !s.move(next, s.at[m.side][m.point]+sign*int64(a.max)) {
				return false
			}
		}
	}
	return true
}

// move takes a bound to a year if that is tighter, and on to one that the
// point may have. It gives false where there is none.
func (s *searcher) move(m tightening, year int64) bool {
	at := &s.at[m.side][m.point]
	tighter := func(a, b int64) bool { return m.side == earliest && a > b || m.side == latest && a < b }
	if *at != open && !tighter(year, *at) {
		return true
	}
	n := int32(len(s.moves))
	m.was, m.prior = *at, s.newest[m.side][m.point]
	s.moves = append(s.moves, m)
	*at, s.newest[m.side][m.point] = year, n
	if other := s.at[1-m.side][m.point]; other != open && tighter(year, other) {
		s.crossed = m.point
		return false
	}
	s.queue = append(s.queue, n)
	return s.round(m.point, m.side, n)
}

// round takes a bound to the next year that every choice of the point offers.
// There is one up to the point's other bound, or that bound is crossed first:
// each choice bounds its point by its first and last year.
func (s *searcher) round(p Point, side int8, cause int32) bool {
	for _, c := range s.chosen[p] {
		if s.left--; s.left < 0 {
			return false
		}
		i, found := slices.BinarySearch(c.years, int(s.at[side][p]))
		if found {
			continue
		}
		if side == latest {
			i--
		}
		return s.move(tightening{point: p, side: side, why: Edge{To: p, Tag: c.tag}, cause: cause}, int64(c.years[i]))
	}
	return true
}
