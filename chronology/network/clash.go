package network

import "slices"

// clashes says whether there is a negative cycle inside one block, the origin
// left out.
func (s *solver) clashes(b int32) bool {
	members := s.order[s.blockAt[b]:s.blockAt[b+1]]
	if len(members) == 1 {
		return slices.ContainsFunc(s.along.from(members[0]), func(a arc) bool { return a.to == members[0] && a.max < 0 })
	}
	s.late = slices.Grow(s.late[:0], len(s.points))[:len(s.points)]
	s.by = slices.Grow(s.by[:0], len(s.points))[:len(s.points)]
	s.mark = slices.Grow(s.mark[:0], len(s.points))[:len(s.points)]
	for _, i := range members {
		s.late[i], s.active[i], s.by[i] = label{}, true, -1
	}
	for forth := true; s.sweep(s.late, s.by, s.along, members, forth); forth = !forth {
		if s.goesRound(members) {
			return true
		}
	}
	return false
}

// goesRound follows the edges that last changed each label back from every
// member and says whether they go round in a ring. Such a ring is a negative
// cycle, and where there is a negative cycle such a ring appears.
func (s *solver) goesRound(members []int32) bool {
	for _, i := range members {
		s.mark[i] = 0
	}
	for n, i := range members {
		walk := int32(n + 1)
		for i >= 0 && s.mark[i] == 0 {
			s.mark[i] = walk
			i = s.before(i)
		}
		if i >= 0 && s.mark[i] == walk {
			return true
		}
	}
	return false
}

// before gives the point from which the label of i was last changed, or -1.
func (s *solver) before(i int32) int32 {
	if s.by[i] < 0 {
		return -1
	}
	return int32(s.edges[s.by[i]].From)
}
