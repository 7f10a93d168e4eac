package checks

import (
	"fmt"

	"yearmark/schema"
)

var eraOverlap = Check{
	Name: "era-overlap", Family: Spans, Level: Warning,
	Meaning: "Two eras of one model share more years than a changeover takes, so that those years belong to both.",
	Example: `eras:
  - {id: first, name: First pattern, span: 1958/1967, cites: ["list-1958, p. 2"]}
  - {id: second, name: Second pattern, span: 1965/1971, cites: ["list-1965, p. 6"]}
→ "First pattern" and "Second pattern" share 1965–1967`,
	Remedy: "Mend the years of one of them, or make of them features that may run side by side.",
	Run:    reportUnsettled,
	finds: func(p *Pass) []contradiction {
		var found []contradiction
		changeover := p.changeover(nil)
		for _, m := range p.Ref.Models.All() {
			p.certainPairs(p.dated(m.Eras), anyTwo, func(a, b datedClaim, shared years) bool {
				if shared.count() <= changeover {
					return false
				}
				found = append(found, p.clash(a, b, fmt.Sprintf("%s and %s share %s", stated(a.Claim), stated(b.Claim), shared)))
				return true
			})
		}
		return found
	},
}

func anyTwo(_, _ *datedClaim) bool { return true }

func (s *shared) dated(claims []*schema.Claim) []datedClaim {
	if len(claims) == 0 {
		return nil
	}
	dated := make([]datedClaim, len(claims))
	for i, c := range claims {
		dated[i] = datedClaim{c, s.yearsOf(c), false}
	}
	return dated
}
