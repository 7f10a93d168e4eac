package network

import "slices"

// growth is a consistent set of a part's edges, made larger edge by edge. It
// keeps potentials that prove the set consistent: pot[to] <= pot[from] + max
// for each of its edges. An edge that breaks this makes the point it leads to
// fall, and others after it in the order of how far, until all is well again or
// the fall comes round to where the edge begins, which is a negative cycle (S.
// Cotton and O. Maler, Fast and flexible difference constraint propagation for
// DPLL(T), 2006). Only points that have to move are looked at. An edge to the
// origin makes the point it comes from rise instead: otherwise every lower
// bound would move everything.
type growth struct {
	part
	along, against view
	pot            []int64
	in             []bool // by edge: whether it is in the set

	need    []int64 // how far a point must move, below zero, or 0
	by      []int32 // the edge because of which it must
	settled []bool  // whether it has moved
	touched []int32 // points with any of the three
	waiting heap
	last    []int32 // the last step to each point in shorter, or -1

	noting bool // moves are noted, so that they can be undone
	moves  []change
}

// change is a point and the potential that it had before it moved.
type change struct {
	at  int32
	pot int64
}

func newGrowth(p part) *growth {
	k := len(p.points)
	g := &growth{
		part: p, pot: make([]int64, k), in: make([]bool, len(p.edges)),
		need: make([]int64, k), by: make([]int32, k), settled: make([]bool, k),
		last: slices.Repeat([]int32{-1}, k),
	}
	g.along.build(p, false)
	g.against.build(p, true)
	return g
}

// fork gives a copy that grows apart from the first. The two share working
// memory, so they cannot be used at the same time.
func (g *growth) fork() *growth {
	f := *g
	f.pot, f.in = slices.Clone(g.pot), slices.Clone(g.in)
	return &f
}

// add puts the edges into the set, or, where they would contradict it, leaves
// all of them out and gives a negative cycle in order, over as few edges as any
// through the edge that closes it.
func (g *growth) add(edges []int32) []int32 {
	for i, e := range edges {
		cycle := g.addOne(e)
		if cycle == nil {
			continue
		}
		if len(cycle) > 2 {
			cycle = g.shorter(e, cycle)
		}
		g.remove(edges[:i])
		return cycle
	}
	return nil
}

// try calls the function, which must remove what it adds, and puts the
// potentials back as they were. That costs what the function moved, however
// large the set is.
func (g *growth) try(do func()) {
	g.noting = true
	do()
	for _, m := range slices.Backward(g.moves) {
		g.pot[m.at] = m.pot
	}
	g.noting, g.moves = false, g.moves[:0]
}

// remove takes edges out of the set. The potentials prove the rest as before.
func (g *growth) remove(edges []int32) {
	for _, e := range edges {
		g.in[e] = false
	}
}

// addOne puts one edge into the set, or leaves it out and gives a negative
// cycle that begins with it.
func (g *growth) addOne(e int32) []int32 {
	from, to := int32(g.edges[e].From), int32(g.edges[e].To)
	m := move{along: g.along, start: to, goal: from, sign: 1}
	if to == int32(Origin) {
		m = move{along: g.against, start: from, goal: to, sign: -1}
	}
	need := g.pot[from] + int64(g.edges[e].Max) - g.pot[to]
	if from == to && need < 0 {
		return []int32{e}
	}
	if need < 0 {
		g.mustMove(m.start, need, e)
	}
	if !g.move(m) {
		cycle := g.chain(m, e)
		g.rest(m.sign)
		return cycle
	}
	g.rest(0)
	g.in[e] = true
	return nil
}

// move is a direction in which points move: down along the edges, or up against them.
type move struct {
	along       view
	start, goal int32 // a move that comes to the goal closes a negative cycle
	sign        int64
}

// move moves all that must. It gives false as soon as the goal must move too.
func (g *growth) move(m move) bool {
	for len(g.waiting) > 0 {
		i, far := g.waiting.pop()
		if g.settled[i] || far != g.need[i] {
			continue
		}
		g.settled[i] = true
		if g.noting {
			g.moves = append(g.moves, change{i, g.pot[i]})
		}
		g.pot[i] += m.sign * far
		for _, a := range m.along.from(i) {
			if !g.in[a.edge] || g.settled[a.to] {
				continue
			}
			if need := m.sign*(g.pot[i]-g.pot[a.to]) + int64(a.max); need < g.need[a.to] {
				if g.mustMove(a.to, need, a.edge); a.to == m.goal {
					return false
				}
			}
		}
	}
	return true
}

// mustMove notes that a point has to move so far because of an edge.
func (g *growth) mustMove(i int32, far int64, because int32) {
	if g.need[i] == 0 {
		g.touched = append(g.touched, i)
	}
	g.need[i], g.by[i] = far, because
	g.waiting.push(i, far)
}

// chain gives the cycle that begins with the edge e and was closed at the goal.
func (g *growth) chain(m move, e int32) []int32 {
	var cycle []int32
	for at := g.by[m.goal]; at != e; {
		cycle = append(cycle, at)
		if m.sign > 0 {
			at = g.by[g.edges[at].From]
		} else {
			at = g.by[g.edges[at].To]
		}
	}
	if m.sign > 0 {
		slices.Reverse(cycle)
	}
	return append([]int32{e}, cycle...)
}

// rest clears what was noted, and takes moves of the given sign back.
func (g *growth) rest(undo int64) {
	for _, i := range g.touched {
		if g.settled[i] {
			g.pot[i] -= undo * g.need[i]
		}
		g.need[i], g.settled[i] = 0, false
	}
	g.touched, g.waiting = g.touched[:0], g.waiting[:0]
}

// step is one edge of a walk, and the step before it.
type step struct {
	at   int32 // point reached
	dist int64
	edge int32
	back int32
}

// shorter gives a negative cycle that begins with e over as few edges as any,
// of as short ones the worst. Walks are made longer edge by edge. One that by
// the potentials cannot close a negative cycle any more goes no further.
func (g *growth) shorter(e int32, cycle []int32) []int32 {
	source, target, first := int32(g.edges[e].To), int32(g.edges[e].From), int64(g.edges[e].Max)
	slack := g.pot[source] - g.pot[target] - first // above zero: how much a walk may lose
	steps, last := []step{{at: source, edge: e, back: -1}}, g.last
	last[source] = 0
	defer func() {
		for _, s := range steps {
			last[s.at] = -1
		}
	}()
	front := []int32{0}
	for range len(cycle) - 2 {
		home, made := step{dist: -first}, int32(len(steps))
		for _, n := range front {
			from := steps[n]
			for _, a := range g.along.from(from.at) {
				next := step{at: a.to, dist: from.dist + int64(a.max), edge: a.edge, back: n}
				if !g.in[a.edge] || next.dist+g.pot[source]-g.pot[a.to] >= slack {
					continue
				}
				if a.to == target {
					if next.dist < home.dist {
						home = next
					}
				} else if last[a.to] < 0 || next.dist < steps[last[a.to]].dist {
					last[a.to] = int32(len(steps))
					steps = append(steps, next)
				}
			}
		}
		if home.dist < -first {
			return edgesTo(steps, home)
		}
		front = front[:0]
		for n := made; n < int32(len(steps)); n++ {
			if last[steps[n].at] == n {
				front = append(front, n)
			}
		}
	}
	return cycle
}

// edgesTo gives the edges of the walk that ends in a step, first to last.
func edgesTo(steps []step, end step) []int32 {
	edges := []int32{end.edge}
	for n := end.back; n >= 0; n = steps[n].back {
		edges = append(edges, steps[n].edge)
	}
	slices.Reverse(edges)
	return edges
}

// heap holds points by how far they must move, furthest first, of as far ones
// the lowest first.
type heap []waiter

type waiter struct {
	at  int32
	far int64
}

func (w waiter) before(v waiter) bool { return w.far < v.far || w.far == v.far && w.at < v.at }

func (h *heap) push(at int32, far int64) {
	*h = append(*h, waiter{at, far})
	for i, list := len(*h)-1, *h; i > 0 && list[i].before(list[(i-1)/2]); i = (i - 1) / 2 {
		list[i], list[(i-1)/2] = list[(i-1)/2], list[i]
	}
}

func (h *heap) pop() (at int32, far int64) {
	list := *h
	top, end := list[0], len(list)-1
	list[0] = list[end]
	*h = list[:end]
	for i := 0; ; {
		least := i
		for c := 2*i + 1; c <= 2*i+2 && c < end; c++ {
			if list[c].before(list[least]) {
				least = c
			}
		}
		if least == i {
			return top.at, top.far
		}
		list[i], list[least] = list[least], list[i]
		i = least
	}
}
