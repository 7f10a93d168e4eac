package checks

import (
	"fmt"

	"yearmark/schema"
)

var muteFeature = Check{
	Name: "mute-feature", Family: Spans, Level: Warning,
	Meaning: "A maker's record has it that a feature says nothing of its bows, yet something is claimed of that feature.",
	Example: `# makers/halvane.md
says-nothing: [{feature: riser-wood, because: "The mill sawed what lay there", cites: [letter-aldous]}]
# models/plover.md
features:
  - {id: padauk, feature: riser-wood, value: padauk, span: 1958/1971, cites: ["list-1958, p. 2", "list-1971, p. 9"]}
→ riser wood "padauk" is claimed, although riser wood is said to say nothing`,
	Remedy: "Take the entry out of says-nothing:, or the claim.",
	Run: func(p *Pass) {
		for c := range p.claims {
			if c.FeatureID() == "" {
				continue
			}
			maker, known := p.Ref.Makers.Get(makerOf(c))
			if !known {
				continue
			}
			if s := maker.Mute(c.FeatureID()); s != nil {
				p.Report(Finding{
					Pos: subjectPos(c), Claims: claimsOf(c), Message: fmt.Sprintf("%s is claimed, although %s is said to say nothing", p.what(c), p.featureName(c.FeatureID())),
					Why:      []Place{{Pos: s.Pos, Message: p.says(s.Cites) + " so: " + s.Because.Value}},
					Remedies: []schema.Remedy{schema.Erase("Take "+p.featureName(c.FeatureID())+" out of says-nothing: of "+maker.Title(), s.Pos)},
				})
			}
		}
	},
}
