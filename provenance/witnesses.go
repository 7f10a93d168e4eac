package provenance

import "slices"

// maxChoices bounds how many choices of places are tried to count witnesses.
const maxChoices = 1 << 10

// countWitnesses gives the most ways from the cited events to origins that have
// no source in common (Menger's theorem: as many as the fewest sources that
// part the one from the other). A way goes through a source at one of its
// places; where they lead on differently, every choice is tried, up to a bound
// beyond which the count may be too low, never too high.
func (n *network) countWitnesses(cited []int32) int {
	reached := n.reachedFrom(cited)
	places := map[int32][]int32{}
	var several []int32 // the draws that several events depend on
	for e := range n.events {
		if !reached[e] {
			continue
		}
		draw := n.events[e].draw
		places[draw] = append(places[draw], int32(e))
		if len(places[draw]) == 2 {
			several = append(several, draw)
		}
	}
	most := 0
	choice := make([]int, len(several))
	for range maxChoices {
		for i, draw := range several {
			for k, e := range places[draw] {
				reached[e] = k == choice[i]
			}
		}
		most = max(most, n.disjointWays(cited, reached))
		i := 0
		for ; i < len(several); i++ {
			if choice[i]++; choice[i] < len(places[several[i]]) {
				break
			}
			choice[i] = 0
		}
		if i == len(several) {
			break
		}
	}
	if most == 0 && len(n.likeliestWays(cited, 1)) > 0 {
		return 1 // by a way that goes through one source at two places
	}
	return most
}

// reachedFrom says which events the cited ones depend on, themselves included.
func (n *network) reachedFrom(cited []int32) []bool {
	reached := make([]bool, len(n.events))
	open := slices.Clone(cited)
	for len(open) > 0 {
		e := open[len(open)-1]
		open = open[:len(open)-1]
		if !reached[e] {
			reached[e] = true
			open = append(open, n.events[e].causes...)
		}
	}
	return reached
}

// disjointWays gives the greatest number of ways that share no event, through
// those events that are open.
func (n *network) disjointWays(cited []int32, open []bool) int {
	f := newFlow(2*len(n.events) + 2)
	from, to := int32(2*len(n.events)), int32(2*len(n.events)+1)
	for e := range n.events {
		if !open[e] {
			continue
		}
		in, out := int32(2*e), int32(2*e+1)
		f.link(in, out)
		if n.events[e].origin {
			f.link(out, to)
		}
		for _, cause := range n.events[e].causes {
			if open[cause] {
				f.link(out, 2*cause)
			}
		}
	}
	for _, e := range cited {
		if open[e] {
			f.link(from, 2*e)
		}
	}
	total := 0
	for f.augment(from, to) {
		total++
	}
	return total
}

// flow is a network of arcs that take one unit each (Ford and Fulkerson,
// Canadian Journal of Mathematics 8, 1956).
type flow struct {
	first []int32 // the last arc made from each node, or -1
	arcs  []arc   // each is followed by its way back
	via   []int32 // the arc by which the search came to each node
}

type arc struct {
	to, next int32
	free     bool
}

func newFlow(nodes int) *flow {
	f := &flow{first: make([]int32, nodes), via: make([]int32, nodes)}
	for i := range f.first {
		f.first[i] = -1
	}
	return f
}

func (f *flow) link(from, to int32) {
	f.arcs = append(f.arcs, arc{to, f.first[from], true}, arc{from, f.first[to], false})
	f.first[from], f.first[to] = int32(len(f.arcs)-2), int32(len(f.arcs)-1)
}

// augment sends one more unit along a shortest path that takes it, if there is one.
func (f *flow) augment(from, to int32) bool {
	for i := range f.via {
		f.via[i] = -1
	}
	open := []int32{from}
	for len(open) > 0 && f.via[to] < 0 {
		n := open[0]
		open = open[1:]
		for a := f.first[n]; a >= 0; a = f.arcs[a].next {
			if next := f.arcs[a].to; f.arcs[a].free && f.via[next] < 0 && next != from {
				f.via[next] = a
				open = append(open, next)
			}
		}
	}
	if f.via[to] < 0 {
		return false
	}
	for n := to; n != from; n = f.arcs[f.via[n]^1].to {
		f.arcs[f.via[n]].free, f.arcs[f.via[n]^1].free = false, true
	}
	return true
}
