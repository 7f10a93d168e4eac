package provenance

import (
	"slices"

	"yearmark/schema"
)

// findGroups sorts the nodes into strongly connected groups, those that
// others rely on first (Tarjan, SIAM Journal on Computing 1, 1972; without
// recursion, so that no chain of sources is too long for it).
func (g *graph) findGroups() {
	t := tarjan{graph: g, index: make([]int32, len(g.nodes)), low: make([]int32, len(g.nodes)), onStack: make([]bool, len(g.nodes))}
	for n := range g.nodes {
		if t.index[n] == 0 {
			t.visit(int32(n))
		}
	}
}

type tarjan struct {
	*graph
	count      int32
	index, low []int32 // from 1; 0 is not yet seen
	onStack    []bool
	stack      []int32
}

type frame struct {
	node int32
	next int // the next of its reliances to follow
}

func (t *tarjan) visit(root int32) {
	path := []frame{t.enter(root)}
	for len(path) > 0 {
		top := &path[len(path)-1]
		n := top.node
		if relies := t.nodes[n].relies; top.next < len(relies) {
			to := relies[top.next]
			top.next++
			switch {
			case t.index[to] == 0:
				path = append(path, t.enter(to))
			case t.onStack[to]:
				t.low[n] = min(t.low[n], t.index[to])
			}
			continue
		}
		path = path[:len(path)-1]
		if len(path) > 0 {
			above := path[len(path)-1].node
			t.low[above] = min(t.low[above], t.low[n])
		}
		if t.low[n] == t.index[n] {
			t.close(n)
		}
	}
}

func (t *tarjan) enter(n int32) frame {
	t.count++
	t.index[n], t.low[n] = t.count, t.count
	t.stack, t.onStack[n] = append(t.stack, n), true
	return frame{node: n}
}

// close takes the group that n was the first of off the stack.
func (t *tarjan) close(n int32) {
	start := len(t.stack) - 1
	for t.stack[start] != n {
		start--
	}
	members := slices.Clone(t.stack[start:])
	t.stack = t.stack[:start]
	slices.Sort(members)
	for _, m := range members {
		t.onStack[m] = false
		t.nodes[m].group = int32(len(t.groups))
	}
	t.groups = append(t.groups, members)
}

// round lists a ring's sources in the order of one shortest way round that
// starts at its first by name; members that this way leaves out follow by name.
func (g *graph) round(members []int32) []*schema.Source {
	order := g.shortestRound(members[0])
	for _, m := range members {
		if !slices.Contains(order, m) {
			order = append(order, m)
		}
	}
	ring := make([]*schema.Source, 0, len(order))
	for _, n := range order {
		ring = append(ring, g.nodes[n].source)
	}
	return ring
}

// shortestRound goes breadth first from start through its own group until it
// meets start again.
func (g *graph) shortestRound(start int32) []int32 {
	from := map[int32]int32{}
	queue := []int32{start}
	for len(queue) > 0 {
		n := queue[0]
		queue = queue[1:]
		for _, to := range g.nodes[n].relies {
			if to == start {
				return wayBack(from, n, start)
			}
			if _, seen := from[to]; !seen && g.nodes[to].group == g.nodes[start].group {
				from[to] = n
				queue = append(queue, to)
			}
		}
	}
	return []int32{start}
}

func wayBack(from map[int32]int32, n, start int32) []int32 {
	order := []int32{n}
	for n != start {
		n = from[n]
		order = append(order, n)
	}
	slices.Reverse(order)
	return order
}
