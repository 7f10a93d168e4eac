package checks

import (
	"fmt"

	"yearmark/schema"
)

var idleException = Check{
	Name: "idle-exception", Family: Spans, Level: Warning,
	Meaning: "A maker's claim excepts a model that is another maker's, so that the exception changes nothing.",
	Example: `# makers/halvane.md; models/knot.md has maker: garth
features:
  - {feature: maker-mark, value: oval, span: 1947/1965, except: [knot], cites: ["list-1958, p. 2"]}
→ the model "knot" is no model of Halvane Archery`,
	Remedy: "Take it out, or name the model that was meant.",
	Run: func(p *Pass) {
		for _, maker := range p.Ref.Makers.All() {
			for _, c := range maker.Claims() {
				for _, t := range c.Except {
					if m, known := p.Ref.Models.Get(t.Value); known && m.Maker.Value != maker.ID {
						p.Report(Finding{Pos: t.Pos, Claims: claimsOf(c), Message: fmt.Sprintf("the model %s is no model of %s", quote(t.Value), maker.Title()), Remedies: []schema.Remedy{schema.Erase("Take "+quote(t.Value)+" out", t.Pos)}})
					}
				}
			}
		}
	},
}
