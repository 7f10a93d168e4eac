package network

import (
	"cmp"
	"maps"
	"slices"
	"sync"
)

// Policy says how Resolve gives up statements.
type Policy struct {
	// Weakness says how readily a statement is given up; nil stands for alike.
	// Stronger statements (lower figures) are added first, as if the weaker
	// ones did not exist: a statement is never given up for a weaker one, nor
	// is a conflict hidden by one. Only components that contradict themselves
	// are asked about.
	Weakness func(Tag) int
	// Limit is the greatest number of conflicts that are explained; 0 stands for 1000.
	Limit int
	// Steps is how many times the edges of one component may be looked at in
	// search of what its choices of years leave; 0 stands for 100,000.
	Steps int
}

// Resolution is what Resolve found.
type Resolution struct {
	Solution  *Solution  // of the statements that were kept
	Conflicts []Conflict // one for each statement given up, in order of component
	Removed   []Tag      // the statements given up, in order
	Truncated bool       // whether more were given up than the limit lets explain
	// Unsearched is the statements of choices that count by their first and
	// last year alone, since the steps ran out, in order.
	Unsearched []Tag
}

// Resolve gives up as few statements as it sees how to until the rest is
// consistent, explains each of them by the conflict that it makes with others
// that were kept, and solves the rest.
//
// In each component statements are added by strength, then by number. One that
// contradicts those added before is given up. Where one statement alone stands
// against several that were given up and is no stronger, it is given up in
// their place: a single wrong statement that contradicts many is reported once.
//
// Of a component with choices of years each year that stays is one of a
// solution of the whole component, and so are earliest and latest years. Where
// there is no solution, statements are given up as above, the weakest of each
// conflict, of as weak ones the last.
func (n *Network) Resolve(policy Policy) Resolution {
	w := workshops.Get().(*workshop)
	defer workshops.Put(w)
	r := &resolver{policy: policy, off: map[Tag]bool{}, solver: &w.solver}
	if r.policy.Weakness == nil {
		r.policy.Weakness = func(Tag) int { return 0 }
	}
	r.policy.Limit = cmp.Or(r.policy.Limit, 1000)
	r.policy.Steps = cmp.Or(r.policy.Steps, 100_000)
	r.Solution = newSolution(n)
	for _, p := range w.split(n) {
		if r.solve(p) || r.restore(p) {
			r.Solution.take(r.solver)
			r.search(p)
		}
	}
	slices.Sort(r.Unsearched)
	r.Removed = slices.Sorted(maps.Keys(r.off))
	return r.Resolution
}

// workshop holds the buffers that one Resolve after another uses. Nothing of it
// is in what Resolve gives.
type workshop struct {
	divider
	solver solver
}

var workshops = sync.Pool{New: func() any { return new(workshop) }}

// resolver is the state of one Resolve.
type resolver struct {
	Resolution
	*solver
	policy Policy
	off    map[Tag]bool // statements given up
}

// restore gives up statements of the part until it is consistent, and leaves
// it solved. It gives false where what holds by definition contradicts itself.
func (r *resolver) restore(p part) bool {
	c, hopeless := newConflictFinder(p)
	if hopeless != nil {
		r.Conflicts = append(r.Conflicts, *hopeless)
		return false
	}
	h := &resolution{conflictFinder: c, kept: c.given.fork(), weakness: r.policy.Weakness}
	verdicts := h.verdicts()
	for i := range verdicts {
		v := &verdicts[i]
		if len(p.choices) == 0 || i+len(r.Conflicts) >= r.policy.Limit {
			break
		}
		v.conflict = r.explain(p, c.minimal(v.cycle))
		if !slices.Contains(v.conflict.Tags, v.tag) {
			// The choices alone contradict each other. The others are added anew without the weakest of these.
			r.giveUpWeakest(v.conflict)
			return r.restore(p.keep(r.stands))
		}
	}
	for _, v := range verdicts {
		r.giveUp(v.tag, func() Conflict {
			if v.conflict.Tags == nil {
				return c.minimal(v.cycle)
			}
			return v.conflict
		})
	}
	return r.solve(p.keep(r.stands))
}

func (r *resolver) stands(t Tag) bool { return !r.off[t] }

// giveUp gives a statement up, and explains why up to the limit.
func (r *resolver) giveUp(t Tag, explain func() Conflict) {
	r.off[t] = true
	if len(r.Conflicts) == r.policy.Limit {
		r.Truncated = true
		return
	}
	r.Conflicts = append(r.Conflicts, explain())
}

// verdict is a statement given up, and the cycle that it closes.
type verdict struct {
	tag   Tag
	cycle []int32
	// conflict explains it where choices may take part
	conflict Conflict
	freed    bool // it stays after all, another one is given up instead
}

// resolution adds the statements of one component by strength.
type resolution struct {
	*conflictFinder
	kept     *growth // what was added and kept
	weakness func(Tag) int
}

// verdicts adds all statements by strength and gives those to be given up.
func (h *resolution) verdicts() []verdict {
	type turn struct{ index, weakness int }
	turns := make([]turn, len(h.tags))
	for i, t := range h.tags {
		turns[i] = turn{i, h.weakness(t)}
	}
	slices.SortStableFunc(turns, func(a, b turn) int { return cmp.Compare(a.weakness, b.weakness) })
	var all []verdict
	for len(turns) > 0 {
		weakness, level := turns[0].weakness, []verdict(nil)
		for ; len(turns) > 0 && turns[0].weakness == weakness; turns = turns[1:] {
			i := turns[0].index
			if cycle := h.kept.add(h.conflictFinder.edges[i]); cycle != nil {
				level = append(level, verdict{tag: h.tags[i], cycle: cycle})
			}
		}
		all = append(all, h.exchange(level, weakness)...)
	}
	return all
}

// exchange gives up single statements of that weakness in place of several
// that they alone stand against.
func (h *resolution) exchange(level []verdict, weakness int) []verdict {
	against := map[Tag][]*verdict{} // which verdicts a statement stands behind
	for i := range level {
		for _, t := range h.tagsOf(level[i].cycle) {
			if t != level[i].tag && h.weakness(t) == weakness {
				against[t] = append(against[t], &level[i])
			}
		}
	}
	suspects := slices.SortedFunc(maps.Keys(against), func(a, b Tag) int {
		return cmp.Or(cmp.Compare(len(against[b]), len(against[a])), cmp.Compare(b, a))
	})
	var kept []verdict
	for _, suspect := range suspects {
		if len(against[suspect]) < 2 || !h.release(against[suspect], suspect) {
			continue
		}
		if cycle := h.kept.add(h.of(suspect)); cycle != nil {
			kept = append(kept, verdict{tag: suspect, cycle: cycle})
		}
	}
	for _, v := range level {
		if !v.freed {
			kept = append(kept, v)
		}
	}
	slices.SortFunc(kept, func(a, b verdict) int { return cmp.Compare(a.tag, b.tag) })
	return kept
}

// release takes a suspect out and adds those again that it contradicted.
// Where two or more of them can then stay they are freed; else all is as before.
func (h *resolution) release(victims []*verdict, suspect Tag) bool {
	h.kept.remove(h.of(suspect))
	var stay []*verdict
	for _, v := range victims {
		if !v.freed && h.kept.add(h.of(v.tag)) == nil {
			stay = append(stay, v)
		}
	}
	if len(stay) < 2 {
		for _, v := range stay {
			h.kept.remove(h.of(v.tag))
		}
		h.kept.add(h.of(suspect))
		return false
	}
	for _, v := range stay {
		v.freed = true
	}
	return true
}
