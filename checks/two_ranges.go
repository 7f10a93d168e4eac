package checks

import (
	"fmt"

	"yearmark/schema"
)

var twoRanges = Check{
	Name: "two-ranges", Family: Contradiction, Level: Error,
	Meaning: "Two different ranges of one figure are claimed for certain in the same years, longer than a changeover takes.",
	Example: `specs:
  - {spec: draw-weight, range: 30..50 lb, span: 1958/1967, cites: ["list-1958, p. 2"]}
  - {spec: draw-weight, range: 35..60 lb, span: 1965/1971, cites: [letter-aldous]}
→ draw weight is both "30..50 lb" and "35..60 lb" in 1965–1967`,
	Remedy: "Mend the range or the span that is wrong. If the sources truly disagree, put the other side under against: and add settled: with the reason, or disputed: true.",
	Run:    reportUnsettled,
	finds: func(p *Pass) []contradiction {
		var found []contradiction
		for _, t := range p.timelines() {
			if t.feature == nil || schema.FeatureKind(t.feature.Kind.Value) != schema.Figure || manyAllowed(t.feature) {
				continue
			}
			changeover := p.changeover(t.feature)
			differ := func(a, b *datedClaim) bool { return a.About == schema.AboutSpec && !sameValue(a.Claim, b.Claim) }
			p.certainPairs(t.dated, differ, func(a, b datedClaim, shared years) bool {
				if shared.count() <= changeover {
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

// manyAllowed says whether a feature's record allows several figures at once.
func manyAllowed(f *schema.Feature) bool { return !f.Exclusive.Pos.IsZero() && !f.Exclusive.Value }
