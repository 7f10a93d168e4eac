package checks

import (
	"fmt"

	"yearmark/schema"
)

var idleSettlement = Check{
	Name: "idle-settlement", Family: Settling, Level: Warning, absence: true,
	Meaning: "A settlement decides something that is not in conflict: no source is cited against the statement, and none of the claims under over: contradicts it. A settlement covers only whom it names.",
	Example: `{feature: riser-wood, value: padauk, span: 1958/1971, cites: ["list-1958, p. 2"], settled: {because: "The bulletin misreads the list", by: editor}}
→ riser wood "padauk" is settled over nobody`,
	Remedy: "Cite who said otherwise under against:, or name the other claim under over:, so that readers see what was decided; or take the settlement out.",
	Run: func(p *Pass) {
		contradictions := p.contradicted()
		for d := range p.decisions {
			if d.Settled == nil {
				continue
			}
			if len(d.Against) == 0 && len(d.Settled.Over) == 0 {
				p.Report(Finding{Pos: d.Settled.Pos, Message: d.name + " is settled over nobody", Claims: claimsOf(d.claim), Remedies: []schema.Remedy{schema.Erase("Take the settlement out", d.base(), "settled")}})
			}
			for _, name := range d.idle(contradictions[d.key()]) {
				p.Report(Finding{Pos: name.Pos, Message: fmt.Sprintf("%s is settled over %s, which does not contradict it", d.name, quote(name.Value)), Claims: claimsOf(d.claim), Remedies: []schema.Remedy{schema.Erase("Take "+quote(name.Value)+" out", name.Pos)}})
			}
		}
	},
}
