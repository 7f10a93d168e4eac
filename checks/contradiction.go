package checks

import (
	"cmp"
	"fmt"
	"slices"

	"yearmark/schema"
)

// contradiction is a set of statements that cannot all be true. It is an error
// of its check unless the editor has decided for one of them over another, or
// openly disputes one with another. Settled, it is shown on the site and is no
// finding; disputed, it belongs to the note open-dispute.
type contradiction struct {
	finding           Finding
	claims            []*schema.Claim
	orders            []*schema.Order
	settled, disputed bool
}

// between makes a contradiction of two claims.
func between(a, b *schema.Claim, f Finding) contradiction {
	c := contradiction{finding: f, claims: []*schema.Claim{a, b}}
	for _, pair := range [][2]*schema.Claim{{a, b}, {b, a}} {
		if d := pair[0].Decision(); d.Covers(pair[1], pair[1].Citations()) {
			c.settled, c.disputed = c.settled || d.Settled != nil, c.disputed || d.Disputed.Value
		}
	}
	c.finding.Claims = c.claims
	return c
}

// open says that nobody has settled the contradiction or opened it as a dispute.
func (c contradiction) open() bool { return !c.settled && !c.disputed }

// reportUnsettled reports the contradictions of a check that are open.
func reportUnsettled(p *Pass) {
	for _, c := range p.contradictions[p.check.Name]() {
		if c.open() {
			c.finding.Help = cmp.Or(c.finding.Help, p.check.Remedy)
			if unnamed(c) {
				c.finding.Help += " " + nameIt
			}
			c.finding.Remedies = append(c.finding.Remedies, p.decides(c)...)
			p.Report(c.finding)
		}
	}
}

// nameIt is added to a remedy where something is settled or disputed, and not
// with the other claim.
const nameIt = "What is settled or disputed already covers only whom it names: list all that the other claim cites under against:, or name the claim: settled: {because: …, over: [ID]} or disputed: {with: [ID]}."

// unnamed says whether one of the statements is settled or disputed.
func unnamed(c contradiction) bool {
	return slices.ContainsFunc(c.claims, func(c *schema.Claim) bool { return c.Settled != nil || c.Disputed.Value }) ||
		slices.ContainsFunc(c.orders, func(o *schema.Order) bool { return o.Settled != nil || o.Disputed.Value })
}

// allContradictions gives the contradictions of every kind.
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
	why = append(why, s.wished(makerOf(a.Claim), a.FeatureID())...)
	var remedies []schema.Remedy
	if a.lent != b.lent {
		made, own := a, b
		if b.lent {
			made, own = b, a
		}
		message += " on the " + own.Model.Title()
		why = append(why, Place{Pos: made.Pos, Message: fmt.Sprintf("%s it of every model of %s: if the %s differs, write except: [%s] there", s.says(citations(made.Claim)), made.Maker.Title(), own.Model.Title(), own.Model.ID)})
		remedies = []schema.Remedy{{
			Title: fmt.Sprintf("Say that %s, %s, does not hold for the %s", made.Maker.Title(), s.claimed(made.Claim), own.Model.Title()),
			Edits: []schema.Edit{{Pos: made.Pos, Keys: []string{"except", "-"}, New: own.Model.ID}},
		}}
	}
	return between(b.Claim, a.Claim, Finding{Pos: at(b.Claim), Message: message, Why: why, Remedies: remedies})
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
