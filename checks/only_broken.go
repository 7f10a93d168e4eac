package checks

import (
	"fmt"

	"yearmark/schema"
)

var onlyBroken = Check{
	Name: "only-broken", Family: Contradiction, Level: Error,
	Meaning: "A value is claimed to be found in no other years, yet another claim or sighting places it outside them.",
	Example: `features:
  - {feature: riser-wood, value: padauk, span: 1965, only: true, cites: ["list-1965, p. 6"]}
  - {feature: riser-wood, value: padauk, attested: [{year: 1968, cites: [example-0007]}]}
→ riser wood "padauk", only of 1965, is claimed for 1968`,
	Remedy: "Take out only: true, or mend the other claim. If the sources truly disagree, add against: with settled: or disputed: true.",
	Run:    reportUnsettled,
	finds: func(p *Pass) []contradiction {
		var found []contradiction
		for _, t := range p.timelines() {
			for i, only := range t.dated {
				if only.Only.Value {
					found = append(found, p.outsideOnly(t.dated, i)...)
				}
			}
		}
		return found
	},
}

// outsideOnly finds the claims of the same value that lie outside the years
// of one that is said to be the only one.
func (p *Pass) outsideOnly(dated []datedClaim, i int) []contradiction {
	var found []contradiction
	only, allowed := dated[i], possibleYears(dated[i].Years)
	for j, other := range dated {
		if i == j || only.lent && other.lent || !sameValue(only.Claim, other.Claim) || other.Empty() || only.Empty() || !p.Ref.CanHoldTogether(only.Claim.When, other.Claim.When) {
			continue
		}
		if other.Only.Value && j < i {
			continue // reported from the other side
		}
		outside := certainYears(other.Years).without(allowed)
		if possible := possibleYears(other.Years); len(possible.with(allowed)) == 0 {
			outside = possible
		}
		if len(outside) == 0 {
			continue
		}
		q := p.clash(only, other, fmt.Sprintf("%s, only of %s, is claimed for %s", p.what(only.Claim), allowed, outside))
		q.finding.Remedies = append(q.finding.Remedies, schema.Erase("Take out only: true", only.Only.Pos))
		found = append(found, q)
	}
	return found
}
