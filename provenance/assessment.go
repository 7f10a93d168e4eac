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
	Divided      bool    // a source is cited on both sides, and right about one of them only
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
	return w.weigh(cites, against, false)
}

func (w *Weighing) assess(c *schema.Claim) Assessment {
	a := w.weigh(c.Citations(), c.Against, c.Settled != nil)
	if a.Doubted = doubted(c); a.Doubted {
		a.Credence /= 2
	}
	return a
}

// weigh assesses a statement by its citations.
func (w *Weighing) weigh(cites, against []schema.Citation, settled bool) Assessment {
	g := w.graph()
	pro, contra := g.cited(cites, w.skip), g.cited(against, w.skip)
	if g.independent(pro, contra) {
		return independently(Side{len(pro), g.any(pro)}, Side{len(contra), g.any(contra)}, settled)
	}
	divided := false
	n := g.build(pro, contra, func(node int32) int {
		if !settled && names(pro, node) && names(contra, node) {
			divided = true
			return 2
		}
		return 1
	})
	c := n.chances()
	a := Assessment{
		For: Side{n.countWitnesses(n.pro), c.pro}, Against: Side{n.countWitnesses(n.contra), c.contra},
		Settled: settled, Divided: divided, Estimated: c.estimated, Credence: c.credence(),
	}
	if settled {
		a.Credence = c.pro
	}
	return a
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

// independently assesses a statement whose sides share no source.
func independently(pro, contra Side, settled bool) Assessment {
	a := Assessment{For: pro, Against: contra, Settled: settled, Credence: pro.Chance}
	if !settled {
		a.Credence = float64(pro.Chance*(1-contra.Chance)) / (1 - float64(pro.Chance*contra.Chance))
	}
	return a
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
