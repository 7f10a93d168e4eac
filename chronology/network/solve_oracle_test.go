package network

import "slices"

// Solve gives the tightest years of every point, or else a conflict of the
// first component that is not consistent. Choices of years count by their first
// and last year. See Resolve for the rest.
func (n *Network) Solve() (*Solution, *Conflict) {
	solution, s := newSolution(n), &solver{}
	for _, p := range new(divider).split(n) {
		if !s.solve(p) {
			c := firstConflict(p)
			return nil, &c
		}
		solution.take(s)
	}
	return solution, nil
}

// Converse gives the relation of the second span to the first.
func (r Relation) Converse() Relation { return After - r }

// Edges gives a copy of the constraints in the order in which they were added.
func (n *Network) Edges() []Edge { return slices.Clone(n.edges) }

// firstConflict gives the conflict that the first statements of a part make,
// added in their order, until one contradicts those before it.
func firstConflict(p part) Conflict {
	c, hopeless := newConflictFinder(p)
	if hopeless != nil {
		return *hopeless
	}
	kept := c.given.fork()
	for _, edges := range c.edges {
		if cycle := kept.add(edges); cycle != nil {
			return c.minimal(cycle)
		}
	}
	panic("network: a part that could not be solved contradicts nothing")
}
