package checks

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
)

var sharedNumber = Check{
	Name: "shared-number", Family: Contradiction, Level: Error,
	Meaning: "A value that stands for one model of a maker at a time, as a model number does, is claimed for two of its models in the same years.",
	Example: `# models/plover.md
features:
  - {feature: model-number, value: H-24, span: 1958/1971, cites: ["list-1958, p. 2"]}
# models/dunlin.md, by the same maker
features:
  - {feature: model-number, value: H-24, span: 1960/1968, cites: [letter-aldous]}
→ model number "H-24" stands for two models in 1960–1968`,
	Remedy: "Mend the number or the span that is wrong. If the maker truly used it twice at once, take singles-out: true out of the feature's record.",
	Run:    reportUnsettled,
	finds: func(p *Pass) []contradiction {
		var found []contradiction
		for _, same := range p.singledOut() {
			changeover := p.changeover(same.feature)
			ofTwo := func(a, b *datedClaim) bool { return a.Model != b.Model }
			p.certainPairs(same.dated, ofTwo, func(a, b datedClaim, shared years) bool {
				if shared.count() <= changeover {
					return false
				}
				found = append(found, p.clash(a, b, fmt.Sprintf("%s stands for two models in %s", p.what(a.Claim), shared)))
				return true
			})
		}
		return found
	},
}

// singledOut gathers the claims of one maker's models that state one value of
// a feature that singles a model out. Capitals make no difference.
func (s *shared) singledOut() []timeline {
	type key struct{ maker, feature, value string }
	by := map[key]*timeline{}
	for _, t := range s.timelines() {
		if t.feature == nil || t.model == nil || !t.feature.SinglesOut.Value {
			continue
		}
		for _, l := range t.dated {
			if l.lent {
				continue
			}
			k := key{t.model.Maker.Value, t.feature.ID, strings.ToLower(l.Value.Value)}
			if by[k] == nil {
				by[k] = &timeline{feature: t.feature}
			}
			by[k].dated = append(by[k].dated, l)
		}
	}
	var all []timeline
	for _, t := range by {
		if len(t.dated) > 1 {
			all = append(all, *t)
		}
	}
	slices.SortFunc(all, func(a, b timeline) int {
		return cmp.Or(at(a.dated[0].Claim).Compare(at(b.dated[0].Claim)), cmp.Compare(a.feature.ID, b.feature.ID))
	})
	return all
}
