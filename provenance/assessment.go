package provenance

import (
	"slices"

	"yearmark/schema"
)

// Assessment is how far a statement is to be believed, and by how many
// independent witnesses on either side.
type Assessment struct {
	For, Against Side
	Settled      bool    // the editor has decided: Against no longer counts
	Doubted      bool    // the span is doubted, which halves Credence
	Divided      bool    // a source is cited for more than one side, and right about one of them only
	Estimated    bool    // worked out from the likeliest ways alone, since there are too many that share sources
	Credence     float64 // from 0 to 1
}

// Side is one side of a statement.
type Side struct {
	Witnesses int     // the most ways from its citations to origins that share no source
	Chance    float64 // that some way consists of reliable sources only, from 0 to 1
}

// Of assesses a claim. It is worked out once and kept. A claim that is no part
// of the reference weighed is worked out afresh each time, and so is one that
// depends on something left out.
func (w *Weighing) Of(c *schema.Claim) Assessment {
	if w.base != nil {
		if w.touches(c) {
			return w.assess(c)
		}
		return w.base.Of(c)
	}
	n, known := w.numberOf(c)
	if !known {
		return w.assess(c)
	}
	if kept := w.assessed[n].Load(); kept != nil {
		return *kept
	}
	a := w.assess(c)
	w.assessed[n].Store(&a)
	return a
}

// Cited assesses any statement with these citations for and against it, neither
// settled nor doubted: an order, say.
func (w *Weighing) Cited(cites, against []schema.Citation) Assessment {
	return w.weigh(cites, against, nil, false)
}

func (w *Weighing) assess(c *schema.Claim) Assessment {
	a := w.weigh(c.Citations(), c.Against, w.rivals[c], c.Settled != nil)
	if a.Doubted = doubted(c); a.Doubted {
		a.Credence /= 2
	}
	return a
}

// weigh assesses a statement by its citations, and by the claims that contradict it.
func (w *Weighing) weigh(cites, against []schema.Citation, rivals []*schema.Claim, settled bool) Assessment {
	g := w.graph()
	pro, contra := g.cited(cites, w.skip), g.cited(against, w.skip)
	var sides map[int32]int
	if !settled {
		sides = w.sides(pro, contra, rivals)
	}
	a := Assessment{Settled: settled, Divided: len(sides) > 0}
	var c chances
	if !a.Divided && g.independent(pro, contra) {
		c = independent(g.any(pro), g.any(contra))
		a.For.Witnesses, a.Against.Witnesses = len(pro), len(contra)
	} else {
		n := g.build(pro, contra, sides)
		c = n.chances()
		a.For.Witnesses, a.Against.Witnesses = n.countWitnesses(n.pro), n.countWitnesses(n.contra)
	}
	a.For.Chance, a.Against.Chance, a.Estimated = c.pro, c.contra, c.estimated
	if a.Credence = c.credence(); settled {
		a.Credence = c.pro
	}
	return a
}

// sides says between how many sides a source is divided: two where it is cited
// for and against a statement, else as many as claims that all contradict each
// other cite it, this one included. A source on one side only is left out.
func (w *Weighing) sides(pro, contra []entry, rivals []*schema.Claim) map[int32]int {
	var sides map[int32]int
	set := func(node int32, n int) {
		if n > max(1, sides[node]) {
			if sides == nil {
				sides = map[int32]int{}
			}
			sides[node] = n
		}
	}
	g := w.graph()
	citing := map[int32][]*schema.Claim{}
	for _, rival := range rivals {
		for _, e := range g.cited(rival.Citations(), w.skip) {
			if list := citing[e.node]; len(list) == 0 || list[len(list)-1] != rival {
				citing[e.node] = append(list, rival)
			}
		}
	}
	for _, e := range pro {
		if names(contra, e.node) {
			set(e.node, 2)
		}
		set(e.node, 1+w.exclusive(citing[e.node]))
	}
	return sides
}

// exclusive counts those claims of a list, taken in its order, that contradict
// all that were counted before.
func (w *Weighing) exclusive(list []*schema.Claim) int {
	var all []*schema.Claim
	for _, c := range list {
		if !slices.ContainsFunc(all, func(other *schema.Claim) bool { return !slices.Contains(w.rivals[other], c) }) {
			all = append(all, c)
		}
	}
	return len(all)
}

// independent says that each entry is an origin and no two are of one source, as
// most are: then nothing need be conditioned on.
func (g *graph) independent(pro, contra []entry) bool {
	for _, list := range [][]entry{pro, contra} {
		for i, e := range list {
			if !g.passage(e).isOrigin() || names(list[:i], e.node) {
				return false
			}
		}
	}
	return !slices.ContainsFunc(contra, func(e entry) bool { return names(pro, e.node) })
}

// any is the chance that one of some origins is right.
func (g *graph) any(list []entry) float64 {
	none := 1.0
	for _, e := range list {
		none = float64(none * (1 - g.passage(e).credence))
	}
	return 1 - none
}

// independent gives the chances of two sides that share no source.
func independent(pro, contra float64) chances {
	return chances{pro: pro, contra: contra, proOnly: float64(pro * (1 - contra)), both: float64(pro * contra)}
}

// names says whether one of the entries is of the source.
func names(list []entry, node int32) bool {
	return slices.ContainsFunc(list, func(e entry) bool { return e.node == node })
}

// doubted says whether the claim's span is written with doubt, be it its own
// or that of the era whose years it shares.
func doubted(c *schema.Claim) bool {
	if c.Span.Doubted() {
		return true
	}
	if c.Era.Value == "" || c.Model == nil {
		return false
	}
	for _, era := range c.Model.Eras {
		if era.ID.Value == c.Era.Value {
			return era.Span.Doubted()
		}
	}
	return false
}
