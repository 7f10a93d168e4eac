package chronology

import (
	"cmp"
	"slices"
	"strings"

	"yearmark/chronology/network"
	"yearmark/schema"
)

// Conflict is a set of statements that cannot all be true. It is minimal:
// leave any one of them out and the others can hold together.
type Conflict struct {
	// Steps tells the contradiction in order. The last of several is the one
	// that the others speak against; its Sentence is without the "but" that
	// String puts before it.
	Steps []Step
	// Primary is the place of the last step, the weaker or later claim.
	Primary schema.Pos
	// Years is by how many years at the least the statements miss each other.
	Years int
	// Settled says that the editor decided for one of the claims or orders over
	// another of them (schema.Decision).
	Settled bool
	// Disputed says that one of them is openly disputed with another.
	Disputed bool
}

// Decided says that the contradiction is settled or openly disputed.
func (c Conflict) Decided() bool { return c.Settled || c.Disputed }

// String tells the contradiction: "the script mark starts the year after the
// oval mark ends (Letter, p. 2); the oval mark is shown in 1968 (List of 1968,
// cover); but the script mark is claimed from 1967 (Bulletin, p. 3)".
func (c Conflict) String() string {
	var b strings.Builder
	for i, s := range c.Steps {
		if i > 0 {
			b.WriteString("; ")
			if i == len(c.Steps)-1 {
				b.WriteString("but ")
			}
		}
		b.WriteString(s.Sentence)
	}
	return b.String()
}

// Related gives the steps other than the one at the primary place.
func (c Conflict) Related() []Step { return c.Steps[:len(c.Steps)-1] }

// Speaks says whether the contradiction is about the claim.
func (c Conflict) Speaks(of *schema.Claim) bool {
	return slices.ContainsFunc(c.Steps, func(s Step) bool {
		return s.Claim == of || s.Order != nil && slices.Contains(subjects(s.Order), of)
	})
}

// conflictOf explains a negative cycle in the records' terms.
func (g *group) conflictOf(cycle []network.Edge, removed []network.Tag, years int) Conflict {
	runs := g.runs(cycle)
	c := Conflict{Years: years}
	var said []*statement
	for _, r := range runs {
		if r.tag != network.Given {
			said = append(said, g.statement(r.tag))
		}
	}
	c.Settled, c.Disputed = decided(said)
	last := 0
	for i := range runs {
		if g.comparePrimary(runs[i].tag, runs[last].tag, removed) > 0 {
			last = i
		}
	}
	runs = slices.Concat(runs[last+1:], runs[:last+1])
	c.Steps = g.steps(runs)
	c.Primary = c.Steps[len(c.Steps)-1].Pos
	return c
}

// decided says whether the editor decided for one of the statements over
// another, and whether one is openly disputed with another.
func decided(list []*statement) (settled, disputed bool) {
	for _, s := range list {
		if !s.settled() && !s.disputed() {
			continue
		}
		for _, t := range list {
			if s != t && s.covers(t) {
				settled, disputed = settled || s.settled(), disputed || s.disputed()
			}
		}
	}
	return settled, disputed
}

// comparePrimary is above zero where a statement is rather the one to tell
// last than another. It is one that is disputed or was overruled; else a claim
// before an order; of several the weaker, of as weak ones the later.
func (g *group) comparePrimary(a, b network.Tag, removed []network.Tag) int {
	if a == network.Given || b == network.Given {
		return cmp.Compare(a, b)
	}
	s, t := g.statement(a), g.statement(b)
	v, w := g.weakness(s), g.weakness(t)
	return cmp.Or(
		compareTruth(v == overturned, w == overturned),
		compareTruth(s.order == nil && s.tie == nil, t.order == nil && t.tie == nil),
		cmp.Compare(v, w),
		compareTruth(slices.Contains(removed, a), slices.Contains(removed, b)),
		cmp.Compare(a, b),
	)
}

func compareTruth(a, b bool) int {
	switch {
	case a == b:
		return 0
	case a:
		return 1
	}
	return -1
}

func sortConflicts(list []Conflict) {
	slices.SortStableFunc(list, func(a, b Conflict) int {
		return cmp.Or(a.Primary.Compare(b.Primary), cmp.Compare(a.String(), b.String()))
	})
}
