package checks

import (
	"fmt"

	"yearmark/schema"
)

var chainedCondition = Check{
	Name: "chained-condition", Family: Spans, Level: Error,
	Meaning: "A claim holds on a condition about a feature whose own claims on the same model have conditions. Which of the two decides cannot be told, so the condition is passed over.",
	Example: `features:
  - {feature: riser-wood, value: padauk, when: {maker-mark: oval}, span: 1958/1971, cites: ["list-1958, p. 2", "list-1971, p. 9"]}
  - {feature: maker-mark, value: oval, when: {draw-weight: ..39 lb}, span: 1958/1971, cites: ["list-1958, p. 2"]}
→ riser wood "padauk" depends on maker's mark, which depends on draw weight`,
	Remedy: "Write the condition about the feature on which both depend: when: {draw-weight: ..39 lb}.",
	Run: func(p *Pass) {
		for _, m := range p.Ref.Models.All() {
			p.chained(p.Ref.ClaimsOn(m), m)
		}
		for _, m := range p.Ref.Makers.All() {
			p.chained(append(m.Features[:len(m.Features):len(m.Features)], m.Specs...), nil)
		}
	},
}

// chained reports conditions about features that have conditions among the same
// claims. Two claims of a maker are told of once, of the maker, where m is nil.
func (p *Pass) chained(claims []*schema.Claim, m *schema.Model) {
	conditional := map[string]*schema.Claim{}
	for _, c := range claims {
		if len(c.When) > 0 && conditional[c.FeatureID()] == nil {
			conditional[c.FeatureID()] = c
		}
	}
	if len(conditional) == 0 {
		return
	}
	for _, c := range claims {
		for _, when := range c.When {
			of, tied := conditional[when.Feature.Value]
			if !tied || m != nil && c.Maker != nil && of.Maker != nil {
				continue
			}
			p.Report(Finding{
				Pos: when.Feature.Pos, Claims: claimsOf(c),
				Message: fmt.Sprintf("%s depends on %s, which depends on %s", p.what(c), p.featureName(of.FeatureID()), p.featureName(of.When[0].Feature.Value)),
				Why:     []Place{{Pos: of.When[0].Feature.Pos, Message: "this claim has a condition: " + schema.Premises(of.When)}},
			})
		}
	}
}
