package checks

import (
	"fmt"

	"yearmark/schema/edtf"
)

var unaccountedYears = Check{
	Name: "unaccounted-years", Family: Spans, Level: Note,
	Meaning: "A model's record says what a feature was in some years, but for other years in which the model was surely made nobody says anything.",
	Example: `made: {span: 1958/1971, cites: ["list-1958, p. 2", "list-1971, p. 9"]}
features:
  - {feature: riser-wood, value: padauk, span: 1958/1965, cites: ["list-1958, p. 2"]}
→ nobody accounts for riser wood in 1966–1971`,
	Remedy: "Nothing is wrong; the dating engine treats these years as unknown. A source or a dated bow of those years would close the gap.",
	Run: func(p *Pass) {
		for _, t := range p.timelines() {
			if t.feature == nil || t.model == nil || t.model.Made == nil {
				continue
			}
			var covered []edtf.Range
			for _, l := range t.dated {
				covered = append(covered, possibleYears(l.Years)...)
			}
			gap := certainYears(p.yearsOf(t.model.Made)).without(tidy(covered))
			if len(gap) == 0 {
				continue
			}
			p.Report(Finding{
				Pos: subjectPos(t.dated[0].Claim), Message: fmt.Sprintf("nobody accounts for %s in %s", p.featureName(t.feature.ID), gap),
				Why: []Place{p.side(t.model.Made)}, Claims: claimsOf(t.dated[0].Claim),
			})
		}
	},
}
