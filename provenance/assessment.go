package provenance

import (
	"cmp"
	"slices"

	"yearmark/schema"
)

// Standing is how a statement stands: who says so, who says otherwise, and
// how far it is to be believed.
type Standing struct {
	For, Against  []Witness // independent witnesses: sources before examples, each by name
	CreditFor     float64   // 1 - product over For of (1 - credence); 0 with nobody for it
	CreditAgainst float64   // the same over Against
	Settled       bool      // the editor has decided: Against no longer counts
	Doubted       bool      // the span is doubted, which halves Credence
	Credence      float64   // from 0 to 1
}

// Of gives the standing of a claim. It is worked out once and kept. A claim
// that is no part of the reference weighed is worked out afresh each time, and
// so is one that rests on something left out.
func (w *Weighing) Of(c *schema.Claim) Standing {
	if w.base != nil {
		if w.touches(c) {
			return w.weigh(c)
		}
		return w.base.Of(c)
	}
	n, known := w.numberOf(c)
	if !known {
		return w.weigh(c)
	}
	if kept := w.standings[n].Load(); kept != nil {
		return *kept
	}
	s := w.weigh(c)
	w.standings[n].Store(&s)
	return s
}

// Cited gives the standing of any statement with these citations for and
// against it, neither settled nor doubted: an order, say.
func (w *Weighing) Cited(cites, against []schema.Citation) Standing {
	s := Standing{For: w.witnesses(cites), Against: w.witnesses(against)}
	s.CreditFor, s.CreditAgainst = credit(s.For), credit(s.Against)
	s.Credence = float64(s.CreditFor * (1 - s.CreditAgainst))
	return s
}

func (w *Weighing) weigh(c *schema.Claim) Standing {
	cites := c.Cites
	if len(c.Attested) > 0 {
		cites = c.Citations()
	}
	s := w.Cited(cites, c.Against)
	if s.Settled = c.Settled != nil; s.Settled {
		s.Credence = s.CreditFor
	}
	if s.Doubted = doubted(c); s.Doubted {
		s.Credence /= 2
	}
	return s
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

// witnesses gathers the origins that the citations lead to, each once.
func (w *Weighing) witnesses(cites []schema.Citation) []Witness {
	type found struct {
		way  way
		from int32
		cite int // its place in cites
	}
	var buffer [8]found
	all, graph := buffer[:0], w.graph()
	for i, cite := range cites {
		n, known := graph.byID[cite.Source]
		if !known || w.skip != nil && w.skip(cite) {
			continue
		}
		for _, way := range graph.nodes[n].ways {
			all = append(all, found{way, n, i})
		}
	}
	slices.SortStableFunc(all, func(a, b found) int { return cmp.Compare(a.way.origin, b.way.origin) })
	list := make([]Witness, 0, len(all))
	for i, f := range all {
		if i == 0 || f.way.origin != all[i-1].way.origin {
			list = append(list, Witness{Origin: graph.nodes[f.way.origin].origin})
		}
		last := &list[len(list)-1]
		last.Credence = max(last.Credence, f.way.credence)
		n := len(last.Cites)
		if n == 0 || f.cite > 0 && &last.Cites[n-1] == &cites[f.cite-1] {
			last.Cites = cites[f.cite-n : f.cite+1 : f.cite+1] // a stretch of the record's own
		} else {
			last.Cites = append(last.Cites, cites[f.cite])
		}
		switch {
		case last.Via == nil && f.way.next < 0:
			continue
		case last.Via == nil: // those before cite the origin itself
			for _, cite := range last.Cites[:n] {
				last.Via = append(last.Via, []string{cite.Source})
			}
		}
		last.Via = append(last.Via, graph.via(f.from, f.way.origin))
	}
	return list
}

// credit is the chance that at least one of the witnesses is right, were they
// right or wrong independently. Here and in Cited, products are converted so
// that no machine fuses them with a sum: the same records give the same bytes.
func credit(list []Witness) float64 {
	wrong := 1.0
	for _, w := range list {
		wrong = float64(wrong * (1 - w.Credence))
	}
	return 1 - wrong
}
