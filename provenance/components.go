package provenance

import "slices"

// components sorts the nodes below n of a directed graph into strongly connected
// components: members rising, those that others lead to first (Tarjan, SIAM
// Journal on Computing 1, 1972; without recursion, so that no chain is too long
// for it).
func components(n int, next func(int32) []int32) [][]int32 {
	t := tarjan{to: next, index: make([]int32, n), low: make([]int32, n), onStack: make([]bool, n)}
	for i := range n {
		if t.index[i] == 0 {
			t.visit(int32(i))
		}
	}
	return t.found
}

type tarjan struct {
	to         func(int32) []int32
	count      int32
	index, low []int32 // from 1; 0 is not yet seen
	onStack    []bool
	stack      []int32
	found      [][]int32
}

type frame struct {
	node int32
	next int // the next of its edges to follow
}

func (t *tarjan) visit(root int32) {
	path := []frame{t.enter(root)}
	for len(path) > 0 {
		top := &path[len(path)-1]
		n := top.node
		if edges := t.to(n); top.next < len(edges) {
			to := edges[top.next]
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

// close takes the component that n was the first of off the stack.
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
	}
	t.found = append(t.found, members)
}
