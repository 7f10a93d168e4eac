package checks

import (
	"fmt"
	"slices"

	"yearmark/schema"
)

var outsideMade = Check{
	Name: "outside-made", Family: Spans, Level: Error,
	Meaning: "A claim about a model reaches beyond the years in which the model was made, or one of its maker about all models beyond the years in which the maker traded.",
	Example: `made: {span: 1958/1971, cites: ["list-1958, p. 2", "list-1971, p. 9"]}
features:
  - {feature: maker-mark, value: script, span: 1966/1973, cites: [letter-aldous]}
→ maker's mark "script" reaches beyond the made span of 1958–1971`,
	Remedy: "Mend the claim's years, or widen the made span if a source bears that out. If the sources truly disagree, add against: with settled: or disputed: true.",
	Run:    reportUnsettled,
	finds: func(p *Pass) []contradiction {
		var found []contradiction
		for _, m := range p.Ref.Models.All() {
			if m.Made == nil || m.Made.Span.IsZero() {
				continue
			}
			found = append(found, p.reachingBeyond(m.Made, m.Claims(), "the made span")...)
		}
		for _, m := range p.Ref.Makers.All() {
			if m.Trading != nil && !m.Trading.Span.IsZero() {
				found = append(found, p.reachingBeyond(m.Trading, slices.Concat(m.Features, m.Specs), "the trading")...)
			}
		}
		return found
	},
}

// reachingBeyond finds the claims that reach beyond the span of another, which is called name.
func (p *Pass) reachingBeyond(of *schema.Claim, claims []*schema.Claim, name string) []contradiction {
	var found []contradiction
	made := datedClaim{of, p.statedYears(of), false}
	for _, c := range claims {
		if c == of || !p.reachesBeyond(c, made) {
			continue
		}
		found = append(found, between(c, of, Finding{
			Pos: at(c), Why: []Place{p.side(of), p.side(c)},
			Message: fmt.Sprintf("%s reaches beyond %s of %s", p.what(c), name, made.Years),
		}))
	}
	return found
}

// reachesBeyond says whether the years as written leave the made span.
func (s *shared) reachesBeyond(c *schema.Claim, made datedClaim) bool {
	if made.Empty() {
		return false
	}
	first, begins := c.Span.Earliest()
	last, ends := c.Span.Latest()
	return begins && (first < made.A || first > made.D) || ends && (last > made.D || last < made.A)
}
