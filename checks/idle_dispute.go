package checks

import (
	"fmt"

	"yearmark/schema"
)

var idleDispute = Check{
	Name: "idle-dispute", Family: Settling, Level: Warning, absence: true,
	Meaning: "A statement is marked as disputed, but no source is cited against it, and none of the claims under with: contradicts it. A dispute covers only whom it names.",
	Example: `{feature: riser-wood, value: padauk, span: 1958/1971, cites: ["list-1958, p. 2"], disputed: true}
→ riser wood "padauk" is disputed by nobody`,
	Remedy: "Cite who says otherwise under against:, or name the other claim: disputed: {with: [ID]}; or take disputed: out.",
	Run: func(p *Pass) {
		contradictions := p.contradicted()
		for d := range p.decisions {
			if !d.Disputed.Value {
				continue
			}
			if len(d.Against) == 0 && len(d.Disputed.With) == 0 {
				p.Report(Finding{Pos: d.Disputed.Pos, Message: d.name + " is disputed by nobody", Claims: claimsOf(d.claim), Remedies: []schema.Remedy{schema.Erase("Take the dispute out", d.base(), "disputed")}})
			}
			if d.Settled != nil {
				continue // settled-and-disputed says so
			}
			for _, name := range d.idle(contradictions[d.key()]) {
				p.Report(Finding{Pos: name.Pos, Message: fmt.Sprintf("%s is disputed with %s, which does not contradict it", d.name, quote(name.Value)), Claims: claimsOf(d.claim), Remedies: []schema.Remedy{schema.Erase("Take "+quote(name.Value)+" out", name.Pos)}})
			}
		}
	},
}
