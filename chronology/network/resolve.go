package network

import (
	"maps"
	"slices"
)

// Policy says how Resolve gives up statements.
type Policy struct {
	// Weakness says how readily a statement is given up; nil stands for alike.
	// Stronger statements (lower figures) are made consistent among themselves
	// first, as if the weaker ones did not exist: a statement is never given up
	// for a weaker one, nor is a conflict hidden by one.
	Weakness func(Tag) int
	// Limit is the greatest number of conflicts that are explained; 0 stands for 1000.
	Limit int
}

// Resolution is what Resolve found.
type Resolution struct {
	Solution  *Solution  // of the statements that were kept
	Conflicts []Conflict // each set of statements once, in order of component
	Removed   []Tag      // the statements given up, in order
	// Truncated says that there were more conflicts than the limit. In a
	// component where they were not all explained every statement as weak as
	// those in conflict, or weaker, was given up.
	Truncated bool
}

// Resolve explains every conflict and solves what remains once one statement
// of each is given up.
//
// In each component it first takes conflicts that share no statement; of each
// it gives up one statement that, alone, takes that conflict away (a single
// wrong statement which contradicts many is so found once), the one with the
// highest tag where several would do. What still conflicts is taken in the
// same way until the rest is consistent.
func (n *Network) Resolve(policy Policy) Resolution {
	r := &resolver{policy: policy, off: map[Tag]bool{}}
	if r.policy.Weakness == nil {
		r.policy.Weakness = func(Tag) int { return 0 }
	}
	if r.policy.Limit == 0 {
		r.policy.Limit = 1000
	}
	r.Solution = newSolution(n)
	for _, p := range n.parts() {
		if r.solve(p) == nil || r.restore(p) {
			r.Solution.take(&r.solver)
		}
	}
	r.Removed = slices.Sorted(maps.Keys(r.off))
	return r.Resolution
}

// resolver is the state of one Resolve.
type resolver struct {
	Resolution
	solver
	policy Policy
	off    map[Tag]bool // statements given up
}

// kept says that a statement has not been given up.
func (r *resolver) kept(t Tag) bool { return !r.off[t] }

// restore gives up statements of the part until it is consistent, and leaves
// it solved. It gives false where what is given contradicts itself.
func (r *resolver) restore(p part) bool {
	if c, found := r.conflict(p.keep(func(Tag) bool { return false })); found {
		r.Conflicts = append(r.Conflicts, c)
		return false
	}
	for _, weakness := range r.levels(p) {
		for {
			level := p.keep(func(t Tag) bool { return r.kept(t) && r.policy.Weakness(t) <= weakness })
			family, hidden, more := r.family(level, weakness)
			r.Conflicts = append(r.Conflicts, family...)
			if more {
				r.giveUp(p, weakness)
			}
			if more || len(family) == 0 {
				break
			}
			for _, c := range family {
				r.off[r.culprit(level, c, hidden)] = true
			}
		}
	}
	return r.solve(p.keep(r.kept)) == nil
}

// levels lists the weaknesses of the part's statements, strongest first.
func (r *resolver) levels(p part) []int {
	var all []int
	for _, t := range p.tags() {
		all = append(all, r.policy.Weakness(t))
	}
	slices.Sort(all)
	return slices.Compact(all)
}

// family gives conflicts of the part that share no statement of the given
// weakness, as many as there are, and those statements. It says whether there
// were more than the limit allows.
func (r *resolver) family(p part, weakness int) (family []Conflict, hidden map[Tag]bool, more bool) {
	hidden = map[Tag]bool{}
	for {
		c, found := r.conflict(p.keep(func(t Tag) bool { return !hidden[t] }))
		if !found {
			return family, hidden, false
		}
		if len(r.Conflicts)+len(family) >= r.policy.Limit {
			r.Truncated = true
			return family, hidden, true
		}
		family = append(family, c)
		for _, t := range c.Tags {
			if r.policy.Weakness(t) == weakness {
				hidden[t] = true
			}
		}
	}
}

// giveUp gives up all statements of the part that are as weak or weaker.
func (r *resolver) giveUp(p part, weakness int) {
	for _, t := range p.tags() {
		if r.policy.Weakness(t) >= weakness {
			r.off[t] = true
		}
	}
}

// culprit gives the statement of a conflict that is to be given up: one
// without which the conflict's other statements agree with all that is not hidden.
func (r *resolver) culprit(p part, c Conflict, hidden map[Tag]bool) Tag {
	var suspects []Tag
	for _, t := range c.Tags {
		if hidden[t] {
			suspects = append(suspects, t)
		}
	}
	slices.SortFunc(suspects, func(a, b Tag) int { return int(b) - int(a) })
	own := setOf(suspects)
	for _, suspect := range suspects {
		rest := p.keep(func(t Tag) bool { return t != suspect && (!hidden[t] || own[t]) })
		if r.solve(rest) == nil {
			return suspect
		}
	}
	return suspects[0]
}
