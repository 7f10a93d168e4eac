package checks

var idleSettlement = Check{
	Name: "idle-settlement", Family: Settling, Level: Warning, absence: true,
	Meaning: "A settlement decides something that is no longer in conflict: no source speaks against the statement and nothing in the records contradicts it.",
	Example: `{feature: riser-wood, value: padauk, span: 1958/1971, cites: ["list-1958, p. 2"], settled: {because: "The bulletin misreads the list", by: editor}}
→ riser wood "padauk" is settled, but nothing contradicts it`,
	Remedy: "Cite who said otherwise under against:, so that readers see what was decided, or take the settlement out.",
	Run: func(p *Pass) {
		contradictions := p.contradicted()
		for d := range p.decisions {
			if d.settled != nil && len(d.against) == 0 && len(contradictions[d.key()]) == 0 {
				p.Report(Finding{Pos: d.settled.Pos, Message: d.name + " is settled, but nothing contradicts it", Claims: claimsOf(d.claim)})
			}
		}
	},
}
