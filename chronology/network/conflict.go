package network

import "slices"

// Conflict is a set of statements that cannot hold together, explained by one
// negative cycle. The set is minimal: leave any one of them out and years
// exist that satisfy the others.
type Conflict struct {
	// Cycle is the edges in order: each begins where the one before it ends,
	// and the last ends where the first begins, at the origin if any touches
	// it. The sum of their Max is below zero, which no years can satisfy. Where
	// choices of years take part it is instead the two chains that leave a
	// point no year, as WhyEarliest and WhyLatest give them.
	Cycle []Edge
	// Tags is the statements in the order in which the cycle first needs them.
	Tags []Tag
	// Chosen says that choices of years take part.
	Chosen bool
}

// Excess is the number of years by which the statements contradict each other
// at the least.
func (c Conflict) Excess() int {
	if c.Chosen {
		return 1
	}
	sum := 0
	for _, e := range c.Cycle {
		sum -= int(e.Max)
	}
	return sum
}

// conflictFinder adds the statements of one inconsistent component one by one.
type conflictFinder struct {
	part
	tags  []Tag     // in order
	edges [][]int32 // of each of tags
	given *growth   // what holds by definition
}

// newConflictFinder gives one for the component, or the conflict of what holds by definition.
func newConflictFinder(p part) (*conflictFinder, *Conflict) {
	c := &conflictFinder{part: p, given: newGrowth(p)}
	c.sort()
	var given []int32
	for i, e := range p.edges {
		if e.Tag == Given {
			given = append(given, int32(i))
		}
	}
	if cycle := c.given.add(given); cycle != nil {
		return nil, &Conflict{Cycle: c.worldly(cycle)}
	}
	return c, nil
}

// sort lists the edges of each statement.
func (c *conflictFinder) sort() {
	var all []int32
	for i, e := range c.part.edges {
		if e.Tag != Given {
			all = append(all, int32(i))
		}
	}
	slices.SortStableFunc(all, func(i, j int32) int { return int(c.part.edges[i].Tag) - int(c.part.edges[j].Tag) })
	for len(all) > 0 {
		tag, n := c.part.edges[all[0]].Tag, 1
		for n < len(all) && c.part.edges[all[n]].Tag == tag {
			n++
		}
		c.tags, c.edges, all = append(c.tags, tag), append(c.edges, all[:n:n]), all[n:]
	}
}

// of gives the edges of a statement.
func (c *conflictFinder) of(t Tag) []int32 {
	i, _ := slices.BinarySearch(c.tags, t)
	return c.edges[i]
}

// minimal makes a conflict of a negative cycle: as long as its statements
// contradict each other without one of them, that one is left out.
func (c *conflictFinder) minimal(cycle []int32) Conflict {
	tags := c.tagsOf(cycle)
	for i := 0; i < len(tags); {
		smaller := c.contradiction(tags, tags[i])
		if smaller == nil {
			i++
			continue
		}
		cycle, tags, i = smaller, c.tagsOf(smaller), 0
	}
	edges := c.worldly(cycle)
	return Conflict{Cycle: edges, Tags: tagsOf(edges)}
}

// contradiction gives a negative cycle of the statements without one of them, or nil.
func (c *conflictFinder) contradiction(tags []Tag, without Tag) (cycle []int32) {
	c.given.try(func() {
		added := 0
		for ; added < len(tags) && cycle == nil; added++ {
			if tags[added] != without {
				cycle = c.given.add(c.of(tags[added]))
			}
		}
		for _, t := range tags[:added] {
			if t != without {
				c.given.remove(c.of(t))
			}
		}
	})
	return cycle
}

// worldly gives the cycle in the network's own points, from its lowest point
// on, the origin if it goes there.
func (c *conflictFinder) worldly(cycle []int32) []Edge {
	first := 0
	for i, e := range cycle {
		if c.part.edges[e].From < c.part.edges[cycle[first]].From {
			first = i
		}
	}
	edges := make([]Edge, len(cycle))
	for i := range cycle {
		edges[i] = c.world(c.part.edges[cycle[(first+i)%len(cycle)]])
	}
	return edges
}

// tagsOf lists the statements of a cycle in order of their number.
func (c *conflictFinder) tagsOf(cycle []int32) []Tag {
	var tags []Tag
	for _, e := range cycle {
		if t := c.part.edges[e].Tag; t != Given {
			tags = append(tags, t)
		}
	}
	slices.Sort(tags)
	return slices.Compact(tags)
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
