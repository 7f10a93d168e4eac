package checks

import (
	"fmt"

	"yearmark/schema"
)

var twoValues = Check{
	Name: "two-values", Family: Contradiction, Level: Error,
	Meaning: "Two values that exclude each other are both claimed for certain in the same years, longer than a changeover takes.",
	Example: `features:
  - {feature: riser-wood, value: padauk, span: 1958/1967, cites: ["list-1958, p. 2"]}
  - {feature: riser-wood, value: walnut, span: 1965/1971, cites: [letter-aldous]}
→ riser wood is both "padauk" and "walnut" in 1965–1967`,
	Remedy: "Mend the span that is wrong. If the sources truly disagree, put the other side under against: and add settled: with the reason, or disputed: true to show both.",
	Run:    reportUnsettled,
	finds: func(p *Pass) []contradiction {
		var found []contradiction
		for _, t := range p.timelines() {
			if t.feature == nil || !t.feature.IsExclusive() || schema.FeatureKind(t.feature.Kind.Value) == schema.Figure {
				continue
			}
			changeover := p.changeover(t.feature)
			differ := func(a, b *datedClaim) bool { return !sameValue(a.Claim, b.Claim) }
			p.certainPairs(t.dated, differ, func(a, b datedClaim, shared years) bool {
				if shared.count() <= changeover || !declared(t.feature, a) || !declared(t.feature, b) {
					return false
				}
				found = append(found, p.clash(a, b, fmt.Sprintf("%s is both %s and %s in %s",
					p.featureName(t.feature.ID), stated(a.Claim), stated(b.Claim), shared)))
				return true
			})
		}
		return found
	},
}

// declared says whether the feature knows the value claimed; where it does
// not, unknown-value has said so.
func declared(f *schema.Feature, l datedClaim) bool {
	if kind := schema.FeatureKind(f.Kind.Value); kind == schema.Wording {
		return true
	}
	_, known := f.Value(l.Value.Value)
	return known
}
