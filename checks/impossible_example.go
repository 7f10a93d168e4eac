package checks

import (
	"fmt"
	"slices"

	"yearmark/schema"
	"yearmark/schema/english"
)

var impossibleExample = Check{
	Name: "impossible-example", Family: Examples, Level: Warning, needsDater: true,
	Meaning: "No year satisfies all that was observed on an example, taking every claim at its word: a part was replaced, it was a special order, something was misread, or a claim is wrong.",
	Example: `observed:
  - {feature: riser-wood, value: padauk}
  - {feature: maker-mark, value: script}
→ no year has riser wood "padauk" and maker's mark "script"`,
	Remedy: "Look again at these features. If the bow is truly so, say in its prose what was changed, or mend the claims that exclude it.",
	Run: func(p *Pass) {
		for i, e := range p.Ref.Examples.All() {
			if v := p.verdicts()[i]; v.Dated && len(v.Years) == 0 {
				p.Report(p.excluded(e, v))
			}
		}
	},
}

// excluded tells the smallest set of observations that exclude each other,
// with the claims about them, or the example as a whole where no set is given.
func (p *Pass) excluded(e *schema.Example, v ExampleVerdict) Finding {
	f := Finding{Pos: e.Pos(), Message: "no year satisfies all that was observed"}
	if len(e.Observed) > 0 {
		f.Pos = e.Observed[0].Feature.Pos
	}
	if len(v.Conflicts) == 0 {
		return f
	}
	var names []string
	for _, o := range e.Observed {
		if o.OwnersWork() || !slices.Contains(v.Conflicts[0], o.Feature.Value) {
			continue
		}
		names = append(names, p.observed(o))
		f.Pos = o.Feature.Pos
		f.Why = append(f.Why, Place{Pos: o.Pos, Message: p.observed(o) + " was observed"})
		f.Why = append(f.Why, p.claimsAbout(e, o)...)
		if m, known := p.Ref.Models.Get(e.Model.Value); known {
			f.Why = append(f.Why, p.wished(m.Maker.Value, o.Feature.Value)...)
		}
	}
	if len(names) > 0 {
		f.Message = "no year has " + english.And(names)
	}
	if n := len(v.Conflicts) - 1; n > 0 {
		f.Why = append(f.Why, Place{Pos: f.Pos, Message: fmt.Sprintf("%d more sets of its features exclude each other", n)})
		if n == 1 {
			f.Why[len(f.Why)-1].Message = "another set of its features excludes each other"
		}
	}
	return f
}

// claimsAbout tells what is claimed of an observed value on the example's
// model, or that nothing is.
func (p *Pass) claimsAbout(e *schema.Example, o *schema.Observed) []Place {
	m, known := p.Ref.Models.Get(e.Model.Value)
	if !known {
		return nil
	}
	var why []Place
	for _, c := range p.Ref.ClaimsOn(m) {
		if c.FeatureID() == o.Feature.Value && (c.About == schema.AboutSpec || states(o, c.Value.Value)) && len(why) < most {
			why = append(why, p.side(c))
		}
	}
	if len(why) == 0 {
		why = append(why, Place{Pos: m.Pos(), Message: fmt.Sprintf("nobody claims %s of the %s", p.observed(o), m.Title())})
	}
	return why
}

func states(o *schema.Observed, value string) bool {
	return slices.ContainsFunc(o.Value, func(v schema.Text) bool { return v.Value == value })
}

// observed names an observation: `riser wood "padauk"`.
func (p *Pass) observed(o *schema.Observed) string {
	var values []string
	for _, v := range o.Value {
		values = append(values, quote(v.Value))
	}
	if len(values) > 1 {
		return p.featureName(o.Feature.Value) + " " + values[0] + " or another"
	}
	return p.featureName(o.Feature.Value) + " " + english.And(values)
}
