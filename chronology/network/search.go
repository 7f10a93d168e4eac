package network

import (
	"cmp"
	"slices"
)

// search narrows a solved part to what its choices of years leave, and gives
// up statements where they leave nothing.
func (r *resolver) search(p part) {
	for steps := r.policy.Steps; len(p.choices) > 0; {
		kept := p.keep(r.stands)
		s := newSearcher(kept, r.Solution, steps)
		years, ok := s.all()
		switch {
		case ok:
			r.Solution.narrow(s, years)
			return
		case s.crossed == Origin || r.Truncated:
			for _, c := range kept.choices {
				r.Unsearched = append(r.Unsearched, c.tag)
			}
			return
		}
		steps = s.left
		if !r.giveUpWeakest(r.explain(kept, s.conflict(r.Solution))) {
			return
		}
		r.solve(p.keep(r.stands))
		r.Solution.take(r.solver)
	}
}

// giveUpWeakest gives up the weakest statement of a conflict, or none where
// what holds by definition contradicts itself.
func (r *resolver) giveUpWeakest(c Conflict) bool {
	if len(c.Tags) == 0 {
		r.Conflicts = append(r.Conflicts, c)
		return false
	}
	weakest := slices.MaxFunc(c.Tags, func(a, b Tag) int {
		return cmp.Or(cmp.Compare(r.policy.Weakness(a), r.policy.Weakness(b)), cmp.Compare(a, b))
	})
	r.giveUp(weakest, func() Conflict { return c })
	return true
}

// all narrows the part and lists the years of every point with choices.
func (s *searcher) all() (years map[Point][]int, ok bool) {
	if !s.narrow() {
		return nil, false
	}
	years = map[Point][]int{}
	for _, c := range s.choices {
		if years[c.point], ok = s.possible(c.point); !ok {
			return nil, false
		}
	}
	return years, true
}

// conflict gives the edges that leave the crossed point no year.
func (s *searcher) conflict(solution *Solution) Conflict {
	sol := Solution{late: solution.late, early: solution.early}
	sol.note(s, nil)
	p := s.points[s.crossed]
	edges := append(sol.WhyEarliest(p), sol.WhyLatest(p)...)
	return Conflict{Cycle: edges, Tags: tagsOf(edges), Chosen: true}
}

// explain makes a conflict of a part with choices minimal: as long as its
// statements leave some point no year without one of them, that one is left out.
func (r *resolver) explain(p part, c Conflict) Conflict {
	scratch := &Solution{late: slices.Clone(r.Solution.late), early: slices.Clone(r.Solution.early)}
	p = p.keep(func(t Tag) bool { return slices.Contains(c.Tags, t) })
	for i := 0; i < len(c.Tags); {
		r.solve(p.keep(func(t Tag) bool { return t != c.Tags[i] && slices.Contains(c.Tags, t) }))
		scratch.take(r.solver)
		s := newSearcher(r.part, scratch, r.policy.Steps)
		if s.narrow() || s.crossed == Origin {
			i++
			continue
		}
		c, i = s.conflict(scratch), 0
	}
	return c
}
