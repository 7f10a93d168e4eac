package checks

import (
	"fmt"

	"yearmark/schema"
)

var outsideMade = Check{
	Name: "outside-made", Family: Spans, Level: Error,
	Meaning: "A claim about a model reaches beyond the years in which the model was made.",
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
			made := datedClaim{m.Made, p.statedYears(m.Made), false}
			for _, c := range m.Claims() {
				if c == m.Made || !p.reachesBeyond(c, made) {
					continue
				}
				claims := []*schema.Claim{c, m.Made}
				found = append(found, contradiction{claims: claims, finding: Finding{
					Pos: at(c), Claims: claims, Why: []Place{p.side(m.Made), p.side(c)},
					Message: fmt.Sprintf("%s reaches beyond the made span of %s", p.what(c), made.Years),
				}})
			}
		}
		return found
	},
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
