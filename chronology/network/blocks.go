package network

// tarjan is the memory of the search for strongly connected blocks.
type tarjan struct {
	seen, low, next []int32 // visit number, lowest one reached, next arc to follow
	path, waiting   []int32 // points being visited, points not yet in a block
	visits          int32
}

// findBlocks finds the strongly connected blocks of the part without its
// origin (R. Tarjan, Depth-first search and linear graph algorithms, 1972).
// Its own stack stands for recursion, so no chain of statements is too long.
func (s *solver) findBlocks() {
	k := len(s.points)
	t := &s.tarjan
	t.seen, t.low, t.next = resized(t.seen, k), resized(t.low, k), resized(t.next, k)
	t.visits = 0
	s.block = resized(s.block, k)
	s.order, s.blockAt = s.order[:0], append(s.blockAt[:0], 0)
	for i := range s.block {
		s.block[i] = -1
	}
	for i := int32(1); i < int32(k); i++ {
		if t.seen[i] == 0 {
			s.visit(i)
		}
	}
}

// visit walks everything that can be reached from a point and closes its blocks.
func (s *solver) visit(root int32) {
	t := &s.tarjan
	t.enter(root)
	for len(t.path) > 0 {
		i := t.path[len(t.path)-1]
		if j := s.unvisited(i); j > 0 {
			t.enter(j)
			continue
		}
		t.path = t.path[:len(t.path)-1]
		if t.low[i] == t.seen[i] {
			s.closeBlock(i)
		}
		if len(t.path) > 0 {
			above := t.path[len(t.path)-1]
			t.low[above] = min(t.low[above], t.low[i])
		}
	}
}

func (t *tarjan) enter(i int32) {
	t.visits++
	t.seen[i], t.low[i] = t.visits, t.visits
	t.path, t.waiting = append(t.path, i), append(t.waiting, i)
}

// unvisited gives the next point after i that was not yet visited, or 0.
func (s *solver) unvisited(i int32) int32 {
	t := &s.tarjan
	arcs := s.along.from(i)
	for int(t.next[i]) < len(arcs) {
		j := arcs[t.next[i]].to
		t.next[i]++
		switch {
		case j == int32(Origin):
		case t.seen[j] == 0:
			return j
		case s.block[j] < 0:
			t.low[i] = min(t.low[i], t.seen[j])
		}
	}
	return 0
}

// closeBlock makes a block of i and all that waits above it.
func (s *solver) closeBlock(i int32) {
	t := &s.tarjan
	b := int32(len(s.blockAt) - 1)
	for {
		j := t.waiting[len(t.waiting)-1]
		t.waiting = t.waiting[:len(t.waiting)-1]
		s.block[j] = b
		s.order = append(s.order, j)
		if j == i {
			break
		}
	}
	s.blockAt = append(s.blockAt, int32(len(s.order)))
}
