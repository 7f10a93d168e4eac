package provenance

import (
	"container/heap"
	"slices"
)

// mostWays is how many ways an estimate goes by on each side.
const mostWays = 20

// maxExpanded bounds the search for the likeliest ways.
const maxExpanded = 1 << 17

// estimate works the chances out from the likeliest ways alone, twenty for each
// side or fewer where that is still too much. It is never more than what the
// whole network would give for a side.
func (n *network) estimate() chances {
	pro, contra := n.likeliestWays(n.pro, mostWays), n.likeliestWays(n.contra, mostWays)
	for most := mostWays; most > 1; most /= 2 {
		some := n.ofWays(pro[:min(most, len(pro))], contra[:min(most, len(contra))])
		if c, ok := some.exactly(); ok {
			c.estimated = true
			return c
		}
	}
	return n.ofOneWay(pro, contra)
}

// ofWays gives the network of these ways alone; its events keep their numbers.
func (n *network) ofWays(pro, contra [][]int32) *network {
	some := &network{events: slices.Clone(n.events)}
	for i := range some.events {
		some.events[i].causes = nil
	}
	add := func(way []int32) {
		for i, e := range way[1:] {
			causes := &some.events[way[i]].causes
			if at, found := slices.BinarySearch(*causes, e); !found {
				*causes = slices.Insert(*causes, at, e)
			}
		}
	}
	for _, way := range pro {
		add(way)
		some.pro = append(some.pro, way[0])
	}
	for _, way := range contra {
		add(way)
		some.contra = append(some.contra, way[0])
	}
	for _, cited := range []*[]int32{&some.pro, &some.contra} {
		slices.Sort(*cited)
		*cited = slices.Compact(*cited)
	}
	return some
}

// ofOneWay goes by the likeliest way of either side.
func (n *network) ofOneWay(pro, contra [][]int32) chances {
	c := chances{estimated: true}
	if len(pro) == 0 || len(contra) == 0 {
		for _, way := range pro {
			c.pro = max(c.pro, n.chanceOf(way))
		}
		for _, way := range contra {
			c.contra = max(c.contra, n.chanceOf(way))
		}
	} else {
		c.pro, c.contra = n.chanceOf(pro[0]), n.chanceOf(contra[0])
		c.both = n.chanceOf(slices.Concat(pro[0], contra[0]))
	}
	c.proOnly = c.pro - c.both
	return c
}

// chanceOf is the chance that events all hold, were each an origin.
func (n *network) chanceOf(events []int32) float64 {
	sorted := slices.Clone(events)
	slices.SortFunc(sorted, func(a, b int32) int { return int(n.events[a].draw) - int(n.events[b].draw) })
	p := 1.0
	for i := 0; i < len(sorted); {
		draw, low, high := n.events[sorted[i]].draw, 0.0, 1.0
		for ; i < len(sorted) && n.events[sorted[i]].draw == draw; i++ {
			low, high = max(low, n.events[sorted[i]].low), min(high, n.events[sorted[i]].high)
		}
		p = float64(p * max(0, high-low))
	}
	return p
}

// likeliestWays gives up to so many ways from the cited events to an origin, the
// likeliest first: each the events from the cited one to the origin's. A way
// meets no event twice. (Best first, with what is left to go known: A*, Hart,
// Nilsson and Raphael, IEEE Transactions 4, 1968.)
func (n *network) likeliestWays(cited []int32, most int) [][]int32 {
	best := n.best()
	var open queue
	begun := 0
	// Of ways as likely, those by different sources come before more by the same.
	push := func(e int32, before *partial, so float64, nth int) {
		heap.Push(&open, &partial{event: e, before: before, so: so, reach: float64(so * best[e]), nth: nth, order: begun})
		begun++
	}
	for _, e := range cited {
		push(e, nil, 1, 0)
	}
	var found [][]int32
	for expanded := 0; len(open) > 0 && len(found) < most && expanded < maxExpanded; expanded++ {
		p := heap.Pop(&open).(*partial)
		ev := &n.events[p.event]
		if ev.origin {
			found = append(found, p.events())
			continue
		}
		for nth, cause := range ev.causes {
			if !p.has(cause) {
				push(cause, p, float64(p.so*(ev.high-ev.low)), nth)
			}
		}
	}
	return found
}

// best gives for each event how likely the likeliest way on from it is, itself included.
func (n *network) best() []float64 {
	dependents := make([][]int32, len(n.events))
	best := make([]float64, len(n.events))
	var open queue
	for i := range n.events {
		ev := &n.events[i]
		for _, cause := range ev.causes {
			dependents[cause] = append(dependents[cause], int32(i))
		}
		if ev.origin {
			heap.Push(&open, &partial{event: int32(i), reach: ev.high - ev.low, order: i})
		}
	}
	known := make([]bool, len(n.events))
	for len(open) > 0 {
		p := heap.Pop(&open).(*partial)
		if known[p.event] {
			continue
		}
		known[p.event], best[p.event] = true, p.reach
		for _, e := range dependents[p.event] {
			if ev := &n.events[e]; !known[e] {
				heap.Push(&open, &partial{event: e, reach: float64(p.reach * (ev.high - ev.low)), order: int(e)})
			}
		}
	}
	return best
}

// partial is a way begun, told from its last event back.
type partial struct {
	event  int32
	before *partial
	so     float64 // how likely what stands before the event is
	reach  float64 // how likely the likeliest whole way with this beginning is
	nth    int     // which of its dependent's causes the event is
	order  int
}

func (p *partial) has(e int32) bool {
	for ; p != nil; p = p.before {
		if p.event == e {
			return true
		}
	}
	return false
}

func (p *partial) events() []int32 {
	var list []int32
	for ; p != nil; p = p.before {
		list = append(list, p.event)
	}
	slices.Reverse(list)
	return list
}

// queue is a heap of ways begun, the likeliest first.
type queue []*partial

func (q queue) Len() int      { return len(q) }
func (q queue) Swap(i, j int) { q[i], q[j] = q[j], q[i] }
func (q queue) Less(i, j int) bool {
	if q[i].reach != q[j].reach {
		return q[i].reach > q[j].reach
	}
	if q[i].nth != q[j].nth {
		return q[i].nth < q[j].nth
	}
	return q[i].order < q[j].order
}
func (q *queue) Push(x any) { *q = append(*q, x.(*partial)) }
func (q *queue) Pop() any {
	old := *q
	last := old[len(old)-1]
	*q = old[:len(old)-1]
	return last
}
