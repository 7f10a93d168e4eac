package checks

import (
	"fmt"
	"slices"

	"yearmark/schema"
)

// statement is anything in a record that cites: a claim, an order, a figure of
// output, a tie to another model, a reading of weight marks, a documented year.
type statement struct {
	pos     schema.Pos
	name    string // for people: "the order …"; empty for a claim, which shared.what names
	cites   []schema.Citation
	against []schema.Citation
	claim   *schema.Claim // nil where it is none
}

// statements yields every statement of the reference that citations belong
// to. A claim's attestations count as its citations.
func (s *shared) statements(yield func(statement) bool) {
	for c := range s.claims {
		if !yield(statement{pos: c.Pos, cites: citations(c), against: c.Against, claim: c}) {
			return
		}
	}
	for _, other := range s.others() {
		if !yield(other) {
			return
		}
	}
}

// citations gives all that speaks for a claim. The caller must not change it.
func citations(c *schema.Claim) []schema.Citation {
	if len(c.Attested) == 0 {
		return c.Cites
	}
	return c.Citations()
}

// claims yields every claim: models by identifier, then makers.
func (s *shared) claims(yield func(*schema.Claim) bool) {
	for _, c := range s.everyClaim() {
		if !yield(c) {
			return
		}
	}
}

func (s *shared) findClaims() []*schema.Claim { return slices.Collect(s.Ref.Claims()) }

// orders gives every statement of order: those of models, then those of makers.
func (s *shared) orders() []*schema.Order {
	var all []*schema.Order
	for _, m := range s.Ref.Models.All() {
		all = append(all, m.Order...)
	}
	for _, m := range s.Ref.Makers.All() {
		all = append(all, m.Order...)
	}
	return all
}

// findOthers gives the statements that are no claims.
func (s *shared) findOthers() []statement {
	var all []statement
	for _, o := range s.orders() {
		all = append(all, statement{pos: o.Pos, name: orderName(o), cites: o.Cites, against: o.Against})
	}
	for _, m := range s.Ref.Models.All() {
		for _, o := range m.Output {
			all = append(all, statement{pos: o.Pos, name: "the output of " + o.Span.String(), cites: o.Cites})
		}
		for _, r := range m.Related {
			all = append(all, statement{pos: r.Pos, name: "the tie to " + quote(r.Model.Value), cites: r.Cites})
		}
	}
	for _, m := range s.Ref.Makers.All() {
		for _, person := range m.People {
			all = append(all, statement{pos: person.Pos, name: person.Name.Value + " as " + person.Role.Value, cites: person.Cites})
		}
		for _, w := range m.WeightMarks {
			all = append(all, statement{pos: w.Pos, name: "the reading of weight marks", cites: w.Cites})
		}
	}
	for _, e := range s.Ref.Examples.All() {
		if e.Documented != nil {
			all = append(all, statement{pos: e.Documented.Pos, name: "the documented year", cites: e.Documented.Cites})
		}
		for _, s := range e.Sales {
			all = append(all, statement{pos: s.Pos, name: "the sale of " + s.On.String(), cites: s.Cites})
		}
		for _, h := range e.History {
			if len(h.Cites) > 0 {
				all = append(all, statement{pos: h.Pos, name: "its history", cites: h.Cites})
			}
		}
		for _, a := range e.Attributed {
			if len(a.Cites) > 0 {
				all = append(all, statement{pos: a.Pos, name: "the opinion of " + a.By.Value, cites: a.Cites})
			}
		}
	}
	for _, r := range slices.Concat(s.Ref.RecordsOf(schema.KindFeature), s.Ref.RecordsOf(schema.KindModel), s.Ref.RecordsOf(schema.KindMaker)) {
		for _, said := range schema.Sayings(r) {
			if len(said.Cites) > 0 {
				all = append(all, statement{pos: said.Pos, name: said.What, cites: said.Cites})
			}
		}
	}
	return all
}

// orderName names an order statement in the record's words.
func orderName(o *schema.Order) string {
	if o.Of.Value != "" {
		return "the length of " + quote(o.Of.Value)
	}
	return fmt.Sprintf("the order %s %s %s", quote(o.First.Value), o.How.Value, quote(o.Second.Value))
}
