package checks

import (
	"fmt"

	"yearmark/schema"
	"yearmark/schema/edtf"
)

// Two claims of one value with spans each tell a whole stretch of its life. A
// value may come back, so stretches that do not meet agree; so do two
// that follow on one another and share no more than a changeover. Two that
// share certain years otherwise tell the same stretch, and must be able to
// begin and to end in the same year. Claims held with different strictness
// (held:) or on other conditions (when:) are taken as meant side by side.
var spansDisagree = Check{
	Name: "spans-disagree", Family: Contradiction, Level: Error,
	Meaning: "One value is given two spans that cannot both be its span: they overlap, but do not begin or end together.",
	Example: `features:
  - {feature: riser-wood, value: padauk, span: 1958/1967, cites: ["list-1958, p. 2"]}
  - {feature: riser-wood, value: padauk, span: 1965/1971, cites: [letter-aldous]}
→ riser wood "padauk" cannot last both 1958–1967 and 1965–1971`,
	Remedy: "Make one claim of both with all the citations, or write single sightings under attested:. If the sources truly disagree, add against: with settled: or disputed: true.",
	Run:    reportUnsettled,
	finds: func(p *Pass) []contradiction {
		var found []contradiction
		for _, t := range p.timelines() {
			changeover := p.changeover(t.feature)
			if len(t.dated) < 2 {
				continue
			}
			stated := make(map[*schema.Claim]edtf.Years, len(t.dated))
			for _, l := range t.dated {
				stated[l.Claim] = p.statedOf(l, t.model)
			}
			disagree := func(a, b *datedClaim) bool {
				return sameValue(a.Claim, b.Claim) && wholeLife(a) && wholeLife(b) && a.Held.Value == b.Held.Value && schema.Premises(a.When) == schema.Premises(b.When) &&
					!a.Only.Value && !b.Only.Value && !canBeOne(stated[a.Claim], stated[b.Claim])
			}
			p.certainPairs(t.dated, disagree, func(a, b datedClaim, shared years) bool {
				first, second := stated[a.Claim], stated[b.Claim]
				if followOn(first, second, shared.count(), changeover) {
					return false
				}
				found = append(found, p.clash(a, b, fmt.Sprintf("%s cannot last both %s and %s", p.what(a.Claim), first, second)))
				return true
			})
		}
		return found
	},
}

// wholeLife says whether a claim tells when a value began and ended, not only
// single sightings or years.
func wholeLife(l *datedClaim) bool {
	return (!l.Span.IsZero() || l.Era.Value != "") && l.Choice == edtf.Interval
}

// canBeOne says whether two spans can begin in one year and end in one year.
func canBeOne(a, b edtf.Years) bool {
	return max(a.A, b.A) <= min(a.B, b.B) && max(a.C, b.C) <= min(a.D, b.D)
}

// followOn says whether the second stretch takes over from the first within a changeover.
func followOn(a, b edtf.Years, shared, changeover int) bool {
	return shared <= changeover && (a.B < b.A && a.D < b.C || b.B < a.A && b.D < a.C)
}
