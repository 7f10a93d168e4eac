package odds

import (
	"cmp"
	"math/bits"
	"slices"
)

// MaxSeen is the greatest number of observations that one query may hold.
const MaxSeen = 64

// MaxConflicts is how many conflicting sets are named at most.
const MaxConflicts = 10

// searchSteps bounds the search for conflicts, whatever the observations.
const searchSteps = 200_000

// Strict is the answer taken at its word: alteration, custom orders and the
// observer's doubt play no part.
type Strict struct {
	// Left holds the pairs of the table under which every observation is possible.
	Left []int
	// Conflicts and Without are set only where none is left. Conflicts holds
	// every minimal set of observations that share no pair, as indices into
	// Query.Seen, smallest first, ten at most. Without[i] holds the pairs left
	// once observation i is put aside.
	Conflicts [][]int
	Without   [][]int
}

// Strict takes the observations at their word. A pair whose prior is 0 is never left.
func (t *Table) Strict(q Query) *Strict {
	spans, n := t.recordedSpans(q.Models)
	fails := make([]uint64, n)
	for i := range q.Seen {
		t.fail(fails, spans, &q.Seen[i], 1<<i)
	}
	worlds := t.worldsOf(q.Seen)
	s := &Strict{}
	for _, sp := range spans {
		for h := sp.start; h < sp.end; h++ {
			if t.Prior[h] > 0 && slices.Contains(worlds.of(h, fails[sp.at+h-sp.start]), 0) {
				s.Left = append(s.Left, h)
			}
		}
	}
	if len(s.Left) > 0 {
		return s
	}
	s.Without = make([][]int, len(q.Seen))
	var edges antichain
	for _, sp := range spans {
		for h := sp.start; h < sp.end; h++ {
			if t.Prior[h] == 0 {
				continue
			}
			for _, m := range worlds.of(h, fails[sp.at+h-sp.start]) {
				if m != 0 && m&(m-1) == 0 {
					i := bits.TrailingZeros64(m)
					s.Without[i] = append(s.Without[i], h)
				}
				edges.add(m)
			}
		}
	}
	s.Conflicts = conflicts(edges.sorted())
	return s
}

// pairWorlds is what observations of tied features fail, world by world.
type pairWorlds struct {
	ties [][]tiedFails // by pair; nil where nothing is tied
	one  [1]uint64
}

type tiedFails struct {
	worlds []uint64 // what fails in each, none within another
	bits   uint64   // of the observations concerned
}

// worldsOf gives the dependences that tie two observations or more: of one alone
// the rows of the table say whether it is possible.
func (t *Table) worldsOf(seen []Seen) *pairWorlds {
	p := &pairWorlds{}
	for i := range t.Dependences {
		d := &t.Dependences[i]
		tied := 0
		for k := range seen {
			if d.has(seen[k].Feature) {
				tied++
			}
		}
		if tied > 1 {
			fails, all := t.worldFails(d, seen)
			if p.ties == nil {
				p.ties = make([][]tiedFails, t.Pairs())
			}
			for _, s := range d.Pairs {
				for pair := s.Start; pair < s.End; pair++ {
					p.ties[pair] = append(p.ties[pair], tiedFails{fails.masks, all})
				}
			}
		}
	}
	return p
}

// of gives what fails under a pair in each world that it can be in, from what
// fails by the rows of the table. The list holds until the next call.
func (p *pairWorlds) of(pair int, fails uint64) []uint64 {
	p.one[0] = fails
	list := p.one[:]
	if p.ties == nil {
		return list
	}
	for _, tie := range p.ties[pair] {
		var worlds antichain
		for _, m := range list {
			for _, w := range tie.worlds {
				worlds.add(m&^tie.bits | w)
			}
		}
		list = worlds.masks
	}
	return list
}

// recordedSpans is spans without the pairs of models that are not on record.
func (t *Table) recordedSpans(models []int) ([]span, int) {
	spans, n := t.spans(models)
	end := t.recorded()
	for i := range spans {
		s := &spans[i]
		beyond := max(0, s.end-max(s.start, end))
		s.end -= beyond
		n -= beyond
	}
	return spans, n
}

// fail marks the pairs under which the observation is not possible.
func (t *Table) fail(fails []uint64, spans []span, s *Seen, bit uint64) {
	f := &t.Features[s.Feature]
	if few(len(fails), f) {
		t.failFew(fails, spans, s, bit)
		return
	}
	const unknown, yes, no = 0, 1, 2
	state := make([]uint8, len(f.Rows))
	for _, sp := range spans {
		to := fails[sp.at : sp.at+sp.end-sp.start]
		for i, r := range f.RowOf[sp.start:sp.end] {
			if state[r] == unknown {
				state[r] = no
				if f.Rows[r].allows(s.Outcomes) {
					state[r] = yes
				}
			}
			if state[r] == no {
				to[i] |= bit
			}
		}
	}
}

// failFew is fail for few pairs.
func (t *Table) failFew(fails []uint64, spans []span, s *Seen, bit uint64) {
	f := &t.Features[s.Feature]
	last, allows, some := uint32(0), false, false
	for _, sp := range spans {
		to := fails[sp.at : sp.at+sp.end-sp.start]
		for i, r := range f.RowOf[sp.start:sp.end] {
			if r != last || !some {
				last, allows, some = r, f.Rows[r].allows(s.Outcomes), true
			}
			if !allows {
				to[i] |= bit
			}
		}
	}
}

// antichain keeps masks of which none contains another.
type antichain struct {
	masks []uint64
	last  uint64
	some  bool
}

// add keeps the mask unless one kept is within it, and drops those that it is within.
func (c *antichain) add(m uint64) {
	if c.some && m == c.last {
		return
	}
	c.last, c.some = m, true
	for _, k := range c.masks {
		if k&m == k {
			return
		}
	}
	c.masks = append(slices.DeleteFunc(c.masks, func(k uint64) bool { return m&k == m }), m)
}

// sorted gives the masks by size and then by value.
func (c *antichain) sorted() []uint64 {
	slices.SortFunc(c.masks, func(a, b uint64) int {
		return cmp.Or(cmp.Compare(bits.OnesCount64(a), bits.OnesCount64(b)), cmp.Compare(a, b))
	})
	return c.masks
}

// conflicts finds the minimal sets of observations that no pair satisfies
// together. A set conflicts when every pair fails one of it, so these are the
// minimal sets that hit every pair's failures (edges). They are sought by
// rising size, so the smallest are found even where the search is cut short.
func conflicts(edges []uint64) [][]int {
	if len(edges) == 0 || edges[0] == 0 {
		return nil
	}
	var all uint64
	for _, e := range edges {
		all |= e
	}
	s := &search{edges: edges}
	var list [][]int
	for size := 1; size <= bits.OnesCount64(all) && len(list) < MaxConflicts && s.steps < searchSteps; size++ {
		s.found = nil
		s.extend(0, 0, size)
		for _, m := range s.found {
			list = append(list, members(m))
		}
	}
	return list[:min(len(list), MaxConflicts)]
}

// search looks for minimal hitting sets of one size.
type search struct {
	edges []uint64
	steps int
	found []uint64
}

// extend adds members to the chosen until every edge is hit. The members of
// an edge are tried in turn and those tried before are then forbidden, so no
// set is met twice.
func (s *search) extend(chosen, forbidden uint64, limit int) {
	s.steps++
	if s.steps > searchSteps || len(s.found) >= MaxConflicts {
		return
	}
	edge, ok := s.open(chosen, forbidden)
	if !ok {
		if limit == 0 {
			s.found = append(s.found, chosen)
		}
		return
	}
	if limit == 0 {
		return
	}
	for choices := edge &^ forbidden; choices != 0; choices &= choices - 1 {
		bit := choices & -choices
		if s.needed(chosen | bit) {
			s.extend(chosen|bit, forbidden, limit-1)
		}
		forbidden |= bit
	}
}

// open gives the edge not yet hit that leaves the fewest choices, or false when all are hit.
func (s *search) open(chosen, forbidden uint64) (edge uint64, ok bool) {
	fewest := MaxSeen + 1
	for _, e := range s.edges {
		if e&chosen != 0 {
			continue
		}
		if n := bits.OnesCount64(e &^ forbidden); n < fewest {
			edge, fewest, ok = e, n, true
		}
	}
	return edge, ok
}

// needed says whether every member alone hits some edge; where one does not,
// no set that contains these is minimal.
func (s *search) needed(chosen uint64) bool {
	var alone uint64
	for _, e := range s.edges {
		if hit := e & chosen; hit != 0 && hit&(hit-1) == 0 {
			alone |= hit
		}
	}
	return alone == chosen
}

func members(mask uint64) []int {
	list := make([]int, 0, bits.OnesCount64(mask))
	for ; mask != 0; mask &= mask - 1 {
		list = append(list, bits.TrailingZeros64(mask))
	}
	return list
}
