package checks

import (
	"fmt"

	"yearmark/schema"
)

var impossibleExample = Check{
	Name: "impossible-example", Family: Examples, Level: Warning, needsJudge: true,
	Meaning: "No year satisfies all that was observed on an example, taking every claim at its word: a part was replaced, it was a special order, something was misread, or a claim is wrong.",
	Example: `observed:
  - {feature: riser-wood, value: padauk}
  - {feature: maker-mark, value: script}
→ no year has riser wood "padauk" and maker's mark "script"`,
	Remedy: "Look again at these features. If the bow is truly so, say in its prose what was changed, or mend the claims that exclude it.",
	Run: func(p *Pass) {
		for _, e := range p.Ref.Examples.All() {
			if v := p.Judge.Judge(e); v.Dated && len(v.Years) == 0 {
				p.Report(p.impossible(e, v))
			}
		}
	},
}

// impossible tells the smallest set of observations that exclude each other,
// or the example as a whole where none is given.
func (p *Pass) impossible(e *schema.Example, v ExampleVerdict) Finding {
	f := Finding{Pos: e.Pos(), Message: "no year satisfies all that was observed"}
	if len(e.Observed) > 0 {
		f.Pos = e.Observed[0].Pos
	}
	if len(v.Conflicts) == 0 {
		return f
	}
	var names []string
	for _, feature := range v.Conflicts[0] {
		for _, o := range e.Observed {
			if o.Feature.Value == feature {
				names = append(names, p.observed(o))
				f.Pos = o.Pos
				f.Why = append(f.Why, Place{Pos: o.Pos, Message: p.observed(o) + " was observed"})
			}
		}
	}
	switch len(names) {
	case 0:
	case 1:
		f.Message = "no year has " + names[0]
	default:
		f.Message = "no year has " + listed(names)
	}
	if n := len(v.Conflicts) - 1; n > 0 {
		f.Why = append(f.Why, Place{Pos: f.Pos, Message: fmt.Sprintf("%s more of its features exclude each other", counted(n, "set"))})
	}
	return f
}

// observed names an observation: `riser wood "padauk"`.
func (p *Pass) observed(o *schema.Observed) string {
	var values []string
	for _, v := range o.Value {
		values = append(values, quote(v.Value))
	}
	if n := len(values); n > 1 {
		return p.featureName(o.Feature.Value) + " " + values[0] + " or another"
	}
	return p.featureName(o.Feature.Value) + " " + listed(values)
}
