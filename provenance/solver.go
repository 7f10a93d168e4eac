package provenance

import (
	"math/bits"
	"slices"
)

// The first bits of a state say which sides hold; the others stand for draws
// and events.
const (
	proHolds    uint64 = 1
	contraHolds uint64 = 2
	sideBits           = 2
	maxBits            = 64
)

// solver works out the chances of a network. An event that only one other
// depends on is worked out where it is needed; others get a bit of the state.
type solver struct {
	*network
	draws map[int32]*draw // those that several events depend on
	bit   []uint64        // of each event that has one
	needs []uint64        // the bits that an event's chance depends on
	fixed []float64       // its chance where it depends on none
	steps []step
	bits  int
	work  int // the chances worked out
}

// draw is a source's draw of which events need to know between which bounds it lies.
type draw struct {
	cuts  []float64
	shift int // where its level begins in the state
	mask  uint64
	known bool // a step has drawn it
}

// step branches a state: it yields the bits to set, and how likely that is.
type step struct {
	reads  uint64
	branch func(state uint64, yield func(set uint64, chance float64))
}

func newSolver(n *network) *solver {
	size := len(n.events)
	s := &solver{network: n, draws: map[int32]*draw{}, bit: make([]uint64, size), needs: make([]uint64, size), fixed: make([]float64, size), bits: sideBits}
	groups := components(size, func(i int32) []int32 { return n.events[i].causes })
	inRing := make([]bool, size)
	for _, members := range groups {
		for _, m := range members {
			inRing[m] = len(members) > 1 || slices.Contains(n.events[m].causes, m)
		}
	}
	mentions := n.mentions()
	for source, cuts := range n.cuts(mentions, inRing) {
		s.draws[source] = &draw{cuts: cuts}
	}
	for _, members := range groups {
		switch first := members[0]; {
		case mentions[first] == 0:
			continue
		case inRing[first]:
			s.addRing(members)
		default:
			s.addEvent(first, mentions[first] > 1)
		}
		for _, m := range members {
			s.addSides(m)
		}
	}
	return s
}

// newBit gives the next bit; where there are no more, one that has no meaning.
func (s *solver) newBit() uint64 {
	s.bits++
	return uint64(1) << (s.bits - 1)
}

// drawn gives the bits of the draw that an event depends on, or 0 where no other event does.
func (s *solver) drawn(e int32) uint64 {
	d := s.draws[s.events[e].draw]
	if d == nil {
		return 0
	}
	if !d.known {
		d.known, d.shift = true, s.bits
		width := bits.Len(uint(len(d.cuts)))
		s.bits += width
		d.mask = (1<<width - 1) << d.shift
		s.steps = append(s.steps, step{0, func(_ uint64, yield func(uint64, float64)) {
			low := 0.0
			for level, cut := range d.cuts {
				yield(uint64(level)<<d.shift, cut-low)
				low = cut
			}
			yield(uint64(len(d.cuts))<<d.shift, 1-low)
		}})
	}
	return d.mask
}

// right is the chance that an event's source is right, in a state.
func (s *solver) right(e int32, state uint64) float64 {
	ev := &s.events[e]
	d := s.draws[ev.draw]
	if d == nil {
		return ev.high - ev.low
	}
	low, level := 0.0, int(state&d.mask>>d.shift)
	if level > 0 {
		low = d.cuts[level-1]
	}
	if ev.low <= low && low < ev.high {
		return 1
	}
	return 0
}

// chance is how likely an event is in a state.
func (s *solver) chance(e int32, state uint64) float64 {
	switch {
	case s.bit[e] != 0 && state&s.bit[e] != 0:
		return 1
	case s.bit[e] != 0:
		return 0
	case s.needs[e] == 0:
		return s.fixed[e]
	}
	return s.holds(e, state)
}

// holds works out how likely an event is in a state.
func (s *solver) holds(e int32, state uint64) float64 {
	s.work++
	p := s.right(e, state)
	if s.events[e].origin || p == 0 {
		return p
	}
	return p * s.any(s.events[e].causes, state)
}

// any is the chance that one of some events holds, which depend on nothing in
// common but the state.
func (s *solver) any(list []int32, state uint64) float64 {
	none := 1.0
	for _, e := range list {
		none = float64(none * (1 - s.chance(e, state)))
	}
	return 1 - none
}

// dependsOn gives the bits that the chance of any of the events depends on.
func (s *solver) dependsOn(list []int32) uint64 {
	var needs uint64
	for _, e := range list {
		needs |= s.bit[e] | s.needs[e]
	}
	return needs
}

// addEvent adds an event whose causes are added.
func (s *solver) addEvent(e int32, shared bool) {
	s.needs[e] = s.drawn(e) | s.dependsOn(s.events[e].causes)
	if s.needs[e] == 0 {
		s.fixed[e] = s.holds(e, 0)
	}
	if !shared {
		return
	}
	reads, bit := s.needs[e], s.newBit()
	s.steps = append(s.steps, step{reads, func(state uint64, yield func(uint64, float64)) {
		p := s.fixed[e]
		if reads != 0 {
			p = s.holds(e, state)
		}
		yield(bit, p)
		yield(0, 1-p)
	}})
	s.bit[e], s.needs[e] = bit, 0
}

// addSides notes where an added event makes a side hold.
func (s *solver) addSides(e int32) {
	for _, side := range []struct {
		cited []int32
		holds uint64
	}{{s.pro, proHolds}, {s.contra, contraHolds}} {
		if _, cited := slices.BinarySearch(side.cited, e); cited {
			s.steps = append(s.steps, step{s.bit[e] | s.needs[e], func(state uint64, yield func(uint64, float64)) {
				p := s.chance(e, state)
				yield(side.holds, p)
				yield(0, 1-p)
			}})
		}
	}
}

// addRing adds events that depend on one another. Each needs its draw and
// whether it has a way out of the ring; which of them hold then follows.
func (s *solver) addRing(members []int32) {
	var reads uint64
	leaves := make([]uint64, len(members))
	inside := make([][]int, len(members)) // the causes in the ring, by their place in members
	for i, m := range members {
		reads |= s.drawn(m)
		var outside []int32
		for _, cause := range s.events[m].causes {
			if k, found := slices.BinarySearch(members, cause); found {
				inside[i] = append(inside[i], k)
			} else {
				outside = append(outside, cause)
			}
		}
		if len(outside) == 0 {
			continue
		}
		leaves[i] = s.newBit()
		reads |= leaves[i]
		s.steps = append(s.steps, step{s.dependsOn(outside), func(state uint64, yield func(uint64, float64)) {
			p := s.any(outside, state)
			yield(leaves[i], p)
			yield(0, 1-p)
		}})
	}
	for _, m := range members {
		s.bit[m] = s.newBit()
	}
	s.steps = append(s.steps, step{reads, func(state uint64, yield func(uint64, float64)) {
		yield(s.holdInRing(members, inside, leaves, state), 1)
	}})
}

// holdInRing gives the bits of the members that hold, once it is known which
// are right and which have a way out.
func (s *solver) holdInRing(members []int32, inside [][]int, leaves []uint64, state uint64) uint64 {
	var holds uint64
	for range members {
		before := holds
		for i, m := range members {
			if s.right(m, state) == 0 {
				continue
			}
			if state&leaves[i] != 0 || slices.ContainsFunc(inside[i], func(k int) bool { return holds&s.bit[members[k]] != 0 }) {
				holds |= s.bit[m]
			}
		}
		if holds == before {
			break
		}
	}
	return holds
}

// run goes through the steps; ok is false where there are too many states.
func (s *solver) run() (states []weighted, ok bool) {
	later := make([]uint64, len(s.steps)+1)
	later[len(s.steps)] = proHolds | contraHolds
	for i := len(s.steps) - 1; i >= 0; i-- {
		later[i] = later[i+1] | s.steps[i].reads
	}
	states = []weighted{{0, 1}}
	var next []weighted
	for i := range s.steps {
		next = next[:0]
		for _, w := range states {
			s.steps[i].branch(w.state, func(set uint64, chance float64) {
				if chance > 0 {
					next = append(next, weighted{w.state | set, float64(w.chance * chance)})
				}
			})
			if len(next) > maxStates || s.work > maxWork {
				return nil, false
			}
		}
		states, next = forget(next, later[i+1]), states
	}
	return states, true
}
