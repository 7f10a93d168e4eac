package checks

import (
	"fmt"
	"slices"

	"yearmark/schema"
)

// decision is a statement that can be settled or disputed: a claim or an order.
type decision struct {
	schema.Decision
	pos   schema.Pos
	name  string
	cites []schema.Citation
	claim *schema.Claim
	order *schema.Order
}

// decisions yields the claims and orders that are settled, disputed or
// contradicted by a citation.
func (s *shared) decisions(yield func(decision) bool) {
	for c := range s.claims {
		if len(c.Against) == 0 && c.Settled == nil && c.Disputed.Pos.IsZero() {
			continue
		}
		if !yield(decision{c.Decision(), at(c), s.what(c), citations(c), c, nil}) {
			return
		}
	}
	for _, o := range s.orders() {
		if len(o.Against) == 0 && o.Settled == nil && o.Disputed.Pos.IsZero() {
			continue
		}
		if !yield(decision{o.Decision(), o.Pos, orderName(o), o.Cites, nil, o}) {
			return
		}
	}
}

// counts says that a citation is of something that was meant: not only of
// slips that their speaker or writer mended.
func (s *shared) counts(c schema.Citation) bool {
	source, known := s.Ref.Sources.Get(c.Source)
	if !known {
		return true
	}
	places := source.PlacesAt(c.Place)
	return len(places) == 0 || slices.ContainsFunc(places, func(p *schema.SourcePlace) bool { return p.CorrectedAt.Value == "" })
}

// contradicted gives the contradictions that each claim and each order is part of.
func (s *shared) contradicted() map[any][]contradiction {
	by := map[any][]contradiction{}
	for _, q := range s.allContradictions() {
		for _, c := range q.claims {
			by[c] = append(by[c], q)
		}
		for _, o := range q.orders {
			by[o] = append(by[o], q)
		}
	}
	return by
}

func (d decision) key() any {
	if d.claim != nil {
		return d.claim
	}
	return d.order
}

// covers says whether a contradiction that the statement is part of is one that
// its settlement or dispute is about.
func (d decision) covers(c contradiction) bool {
	for _, other := range c.claims {
		if other != d.claim && d.Covers(other, citations(other)) {
			return true
		}
	}
	return slices.ContainsFunc(c.orders, func(o *schema.Order) bool { return o != d.order && d.Covers(nil, o.Cites) })
}

// idle gives the names in the settlement or dispute whose claims do not
// contradict the statement.
func (d decision) idle(all []contradiction) []schema.Text {
	var idle []schema.Text
	for _, name := range d.Opponents() {
		meant := func(c *schema.Claim) bool { return d.Means(name, c) }
		if !slices.ContainsFunc(all, func(c contradiction) bool { return slices.ContainsFunc(c.claims, meant) }) {
			idle = append(idle, name)
		}
	}
	return idle
}

// sides tells who speaks for a statement and who against it, each at its
// place in the record.
func (p *Pass) sides(d decision) []Place {
	var why []Place
	for _, c := range d.cites {
		why = append(why, Place{Pos: c.Pos, Message: p.says([]schema.Citation{c}) + " so"})
	}
	for _, c := range d.Against {
		why = append(why, Place{Pos: c.Pos, Message: p.says([]schema.Citation{c}) + " otherwise"})
	}
	return why
}

// witnesses counts the independent witnesses on both sides: "2 witnesses for, 1 against".
func (p *Pass) witnesses(d decision) string {
	a := p.Weighing.Cited(d.cites, d.Against)
	if a.For.Witnesses == 1 {
		return fmt.Sprintf("1 witness for, %d against", a.Against.Witnesses)
	}
	return fmt.Sprintf("%d witnesses for, %d against", a.For.Witnesses, a.Against.Witnesses)
}
