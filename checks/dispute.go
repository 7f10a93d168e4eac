package checks

import (
	"fmt"

	"yearmark/schema"
)

// decision is a statement that can be settled or disputed: a claim or an order.
type decision struct {
	pos      schema.Pos
	name     string
	cites    []schema.Citation
	against  []schema.Citation
	settled  *schema.Settlement
	disputed schema.Flag
	claim    *schema.Claim
	order    *schema.Order
}

// decisions yields the claims and orders that are settled, disputed or
// contradicted by a citation.
func (s *shared) decisions(yield func(decision) bool) {
	for c := range s.claims {
		if len(c.Against) == 0 && c.Settled == nil && c.Disputed.Pos.IsZero() {
			continue
		}
		if !yield(decision{at(c), s.what(c), citations(c), c.Against, c.Settled, c.Disputed, c, nil}) {
			return
		}
	}
	for _, o := range s.orders() {
		if len(o.Against) == 0 && o.Settled == nil && o.Disputed.Pos.IsZero() {
			continue
		}
		if !yield(decision{o.Pos, orderName(o), o.Cites, o.Against, o.Settled, o.Disputed, nil, o}) {
			return
		}
	}
}

// quarrelled gives the contradictions that each claim and each order is part of.
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

// sides tells who speaks for a statement and who against it, each at its
// place in the record.
func (p *Pass) sides(d decision) []Place {
	var why []Place
	for _, c := range d.cites {
		why = append(why, Place{Pos: c.Pos, Message: p.says([]schema.Citation{c}) + " so"})
	}
	for _, c := range d.against {
		why = append(why, Place{Pos: c.Pos, Message: p.says([]schema.Citation{c}) + " otherwise"})
	}
	return why
}

// witnesses counts the independent witnesses on both sides: "2 witnesses for, 1 against".
func (p *Pass) witnesses(d decision) string {
	a := p.Weighing.Cited(d.cites, d.against)
	if a.For.Witnesses == 1 {
		return fmt.Sprintf("1 witness for, %d against", a.Against.Witnesses)
	}
	return fmt.Sprintf("%d witnesses for, %d against", a.For.Witnesses, a.Against.Witnesses)
}
