package provenance

import (
	"cmp"
	"slices"
)

// event is that a source is right at one of its places and has the fact from
// somewhere: it holds where the source's draw lies within its bounds and, unless
// the source is an origin there, one of its causes holds.
type event struct {
	entry     entry // the source and place that it stands for
	draw      int32 // the source's number; a draw is uniform from 0 to 1 and independent of all others
	low, high float64
	origin    bool
	causes    []int32 // the events of the sources relied on, rising
}

// network is the events on which a statement depends, and those that citations
// name: for it holds where one of pro does, against it where one of contra does.
// Every event has a way to an origin.
type network struct {
	events      []event
	pro, contra []int32 // rising
}

// chances is how likely the two sides of a statement are.
type chances struct {
	pro       float64 // that some way for it consists of reliable sources only
	contra    float64 // the same against it
	proOnly   float64 // for it, and none against it
	both      float64
	estimated bool // of the likeliest ways alone, since exactly would be too much work
}

// credence is how far a statement is to be believed that cannot be true and
// untrue at once. No source is certain, so both is below 1.
func (c chances) credence() float64 { return c.proOnly / (1 - c.both) }

// These bound the work on one statement: of how many combinations of sources the
// chances are kept at a time, which twenty sources that ways share do not
// exceed with the two sides, and how many chances of events are worked out.
const (
	maxStates = 1 << 22
	maxWork   = 1 << 25
)

// chances works the network's chances out: exactly, or as those of its likeliest
// ways where that would go beyond the bound.
func (n *network) chances() chances {
	shared := 0
	for _, count := range n.mentions() {
		if count > 1 {
			shared++
		}
	}
	if shared >= manyShared {
		n = n.merged()
	}
	if c, ok := n.exactly(); ok {
		return c
	}
	return n.estimate()
}

// exactly goes through the events, causes first, and keeps for every
// combination of what later events depend on how likely it is (conditioning on
// the nodes that paths share: Colbourn, The Combinatorics of Network
// Reliability, 1987, chapter 2). ok is false where they become too many.
func (n *network) exactly() (c chances, ok bool) {
	s := newSolver(n)
	if s.bits > maxBits {
		return c, false
	}
	states, ok := s.run()
	for _, w := range states {
		pro, contra := w.state&proHolds != 0, w.state&contraHolds != 0
		switch {
		case pro && contra:
			c.both += w.chance
		case pro:
			c.proOnly += w.chance
		case contra:
			c.contra += w.chance
		}
	}
	c.pro, c.contra = min(1, c.proOnly+c.both), min(1, c.contra+c.both) // the sums round
	c.proOnly = min(1, c.proOnly)
	return c, ok
}

// mentions gives for each event how many events and sides it is a cause of.
func (n *network) mentions() []int32 {
	count := make([]int32, len(n.events))
	for _, list := range [][]int32{n.pro, n.contra} {
		for _, e := range list {
			count[e]++
		}
	}
	for i := range n.events {
		for _, e := range n.events[i].causes {
			count[e]++
		}
	}
	return count
}

// cuts gives for every draw that several of the events in use depend on, or one
// in a ring, the bounds at which one of them begins or ends, rising.
func (n *network) cuts(used []int32, inRing []bool) map[int32][]float64 {
	users := map[int32]int{}
	for i := range n.events {
		if used[i] > 0 {
			users[n.events[i].draw]++
		}
		if inRing[i] {
			users[n.events[i].draw]++
		}
	}
	found := map[int32][]float64{}
	for i := range n.events {
		ev := &n.events[i]
		if used[i] == 0 || users[ev.draw] < 2 {
			continue
		}
		for _, bound := range []float64{ev.low, ev.high} {
			if bound > 0 && bound < 1 {
				found[ev.draw] = append(found[ev.draw], bound)
			}
		}
	}
	for draw, list := range found {
		slices.Sort(list)
		found[draw] = slices.Compact(list)
	}
	return found
}

// weighted is a combination of what holds and fails, and how likely it is.
type weighted struct {
	state  uint64
	chance float64
}

// forget clears the bits that nothing later depends on and joins what is then alike.
func forget(states []weighted, keep uint64) []weighted {
	changed := false
	for i := range states {
		changed = changed || states[i].state&^keep != 0
		states[i].state &= keep
	}
	if !changed {
		return states
	}
	slices.SortStableFunc(states, func(a, b weighted) int { return cmp.Compare(a.state, b.state) })
	last := 0
	for _, w := range states[1:] {
		if w.state == states[last].state {
			states[last].chance += w.chance
			continue
		}
		last++
		states[last] = w
	}
	return states[:last+1]
}
