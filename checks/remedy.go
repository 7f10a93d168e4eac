package checks

import (
	"fmt"

	"yearmark/schema"
)

// whyNot is asked where a dispute is decided.
const whyNot = "Why is the other side not followed?"

// decides are the remedies of a contradiction between two claims that nobody has
// decided: one of them is followed, or the site shows both. A settlement or a
// dispute that is there already is made to name the other claim instead.
func (p *Pass) decides(q contradiction) []schema.Remedy {
	if len(q.claims) != 2 || len(q.orders) > 0 || q.claims[0].Key() == q.claims[1].Key() {
		return nil
	}
	var list []schema.Remedy
	for i, c := range q.claims {
		other := q.claims[1-i]
		name, edits := naming(c, other)
		keys, title := []string{"disputed", "with", "-"}, "Let the dispute about %s name %s too"
		if c.Settled != nil {
			keys, title = []string{"settled", "over", "-"}, "Let the settlement of %s name %s too"
		} else if !c.Disputed.Value {
			continue
		}
		list = append(list, schema.Remedy{Title: fmt.Sprintf(title, p.claimed(c), p.claimed(other)), Edits: append(edits, schema.Edit{Pos: c.Pos, Keys: keys, New: name})})
	}
	if list != nil {
		return list
	}
	for i, c := range q.claims {
		name, edits := naming(c, q.claims[1-i])
		list = append(list, schema.Remedy{Title: "Decide for " + p.claimed(c), Asks: whyNot, Edits: append(edits,
			schema.Edit{Pos: c.Pos, Keys: []string{"settled", "because"}, Said: true},
			schema.Edit{Pos: c.Pos, Keys: []string{"settled", "over", "-"}, New: name})})
	}
	name, edits := naming(q.claims[0], q.claims[1])
	return append(list, schema.Remedy{Title: showBoth, Edits: append(edits, schema.Edit{Pos: q.claims[0].Pos, Keys: []string{"disputed", "with", "-"}, New: name})})
}

// showBoth leaves a dispute open.
const showBoth = "Leave it open, and show both sides"

// claimed tells a claim with its years: `riser wood "padauk" for 1958 to 1971`.
func (s *shared) claimed(c *schema.Claim) string {
	return fmt.Sprintf("%s for %s", s.what(c), s.yearsOf(c))
}

// naming gives the name by which one claim names another, and the edit that
// makes the name lasting where the record gives none.
func naming(from, to *schema.Claim) (name string, edits []schema.Edit) {
	if to.ID.Value != "" && to.ID.Pos.IsZero() {
		edits = []schema.Edit{{Pos: to.Pos, Keys: []string{"id"}, New: to.ID.Value}}
	}
	if from.Model == to.Model && from.Maker == to.Maker {
		return to.Anchor(), edits
	}
	return to.Key(), edits
}

// remedies are those of a statement that is contradicted by a citation.
func (d decision) remedies() []schema.Remedy {
	at := d.base()
	return []schema.Remedy{
		{Title: "Decide for it", Asks: whyNot, Edits: []schema.Edit{{Pos: at, Keys: []string{"settled", "because"}, Said: true}}},
		{Title: showBoth, Edits: []schema.Edit{{Pos: at, Keys: []string{"disputed"}, New: "true"}}},
	}
}

// base is where the statement begins.
func (d decision) base() schema.Pos {
	if d.claim != nil {
		return d.claim.Pos
	}
	return d.order.Pos
}

// nearest offers a known name in place of one that is not, if one is near.
func (f *Finding) nearest(written, name string, known []string, whole func(near string) string) {
	near, ok := schema.Nearest(name, known)
	if !ok {
		return
	}
	f.Help = fmt.Sprintf("Did you mean %q?", whole(near))
	f.Remedies = append(f.Remedies, schema.Rename(f.Pos, written, whole(near)))
}
