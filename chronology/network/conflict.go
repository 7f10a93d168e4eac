package network

// Conflict is a set of statements that cannot hold together, told by one
// negative cycle. The set is minimal: leave any one of them out and years
// exist that satisfy the others.
type Conflict struct {
	// Cycle is the edges in order: each begins where the one before it ends,
	// and the last ends where the first begins, at the origin if any touches
	// it. The sum of their Max is below zero, which no years can satisfy.
	Cycle []Edge
	// Tags is the statements in the order in which the cycle first needs them.
	Tags []Tag
}

// Excess is the number of years by which the statements contradict each other.
func (c Conflict) Excess() int {
	sum := 0
	for _, e := range c.Cycle {
		sum -= int(e.Max)
	}
	return sum
}

// find gives a negative cycle of the part in the network's own points, or nil.
func (s *solver) find(p part) []Edge {
	c := s.solve(p)
	if c == nil {
		return nil
	}
	return s.shortest(c)
}

// conflict gives a minimal conflict of the part, or false where it is consistent.
func (s *solver) conflict(p part) (Conflict, bool) {
	cycle := s.find(p)
	if cycle == nil {
		return Conflict{}, false
	}
	tags := tagsOf(cycle)
	p = p.about(tags)
	for i := 0; i < len(tags); {
		smaller := s.find(p.keep(func(t Tag) bool { return t != tags[i] }))
		if smaller == nil {
			i++
			continue
		}
		cycle, tags, i = smaller, tagsOf(smaller), 0
		p = p.about(tags)
	}
	return Conflict{Cycle: cycle, Tags: tags}, true
}

// tagsOf lists the statements of a cycle, each once, in order of appearance.
func tagsOf(cycle []Edge) []Tag {
	var tags []Tag
	seen := map[Tag]bool{Given: true}
	for _, e := range cycle {
		if !seen[e.Tag] {
			seen[e.Tag] = true
			tags = append(tags, e.Tag)
		}
	}
	return tags
}
