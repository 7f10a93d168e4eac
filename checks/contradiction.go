package checks

import (
	"cmp"
	"fmt"
	"slices"

	"yearmark/schema"
)

// contradiction is a set of statements that cannot all be true. Until one of them is
// settled or disputed it is an error of its check. Settled, it is shown on
// the site and is no finding; disputed, it belongs to the note open-dispute.
type contradiction struct {
	finding Finding
	claims  []*schema.Claim
	orders  []*schema.Order
	// isSettled and isDisputed say what chronology knows of statements that
	// are neither claims nor orders, or were overruled by a settlement elsewhere.
	isSettled, isDisputed bool
}

// settled says whether the editor has decided about one of the statements.
func (q contradiction) settled() bool {
	return q.isSettled || slices.ContainsFunc(q.claims, func(c *schema.Claim) bool { return c.Settled != nil }) ||
		slices.ContainsFunc(q.orders, func(o *schema.Order) bool { return o.Settled != nil })
}

// disputed says whether one of the statements is openly disputed.
func (q contradiction) disputed() bool {
	return q.isDisputed || slices.ContainsFunc(q.claims, func(c *schema.Claim) bool { return c.Disputed.Value }) ||
		slices.ContainsFunc(q.orders, func(o *schema.Order) bool { return o.Disputed.Value })
}

// reportUnsettled reports the contradictions of a check that nobody has
// settled or opened as a dispute.
func reportUnsettled(p *Pass) {
	for _, q := range p.contradictions[p.check.Name]() {
		if !q.settled() && !q.disputed() {
			p.Report(q.finding)
		}
	}
}

// allQuarrels gives the contradictions of every kind.
func (s *shared) allContradictions() []contradiction {
	names := make([]string, 0, len(s.contradictions))
	for name := range s.contradictions {
		names = append(names, name)
	}
	slices.Sort(names)
	var all []contradiction
	for _, name := range names {
		all = append(all, s.contradictions[name]()...)
	}
	return all
}

// clash makes a contradiction of two claims. It is reported at the weaker of them, or at
// the one whose years begin later where both are believed alike; both sides
// follow with their citations, the stronger first.
func (s *shared) clash(a, b datedClaim, message string) contradiction {
	if s.weaker(a, b) < 0 {
		a, b = b, a
	}
	why := []Place{s.side(a.Claim), s.side(b.Claim)}
	why = append(why, s.derivation(a.Claim)...)
	why = append(why, s.derivation(b.Claim)...)
	if a.lent != b.lent {
		made, own := a, b
		if b.lent {
			made, own = b, a
		}
		message += " on the " + own.Model.Title()
		why = append(why, Place{Pos: made.Pos, Message: fmt.Sprintf("%s it of every model of %s: if the %s differs, write except: [%s] there", s.says(citations(made.Claim)), made.Maker.Title(), own.Model.Title(), own.Model.ID)})
	}
	claims := []*schema.Claim{b.Claim, a.Claim}
	return contradiction{finding: Finding{Pos: at(b.Claim), Message: message, Why: why, Claims: claims}, claims: claims}
}

// weaker orders two claims: below 0 if the first is the weaker or the later.
func (s *shared) weaker(a, b datedClaim) int {
	return cmp.Or(
		cmp.Compare(s.Weighing.Of(a.Claim).Credence, s.Weighing.Of(b.Claim).Credence),
		-cmp.Compare(a.A, b.A), -at(a.Claim).Compare(at(b.Claim)),
	)
}

// claimsOf is the list of one claim, or of none.
func claimsOf(c *schema.Claim) []*schema.Claim {
	if c == nil {
		return nil
	}
	return []*schema.Claim{c}
}
