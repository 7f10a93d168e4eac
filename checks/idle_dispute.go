package checks

var idleDispute = Check{
	Name: "idle-dispute", Family: Settling, Level: Warning, absence: true,
	Meaning: "A statement is marked as disputed, but no source speaks against it and nothing in the records contradicts it.",
	Example: `{feature: riser-wood, value: padauk, span: 1958/1971, cites: ["list-1958, p. 2"], disputed: true}
→ riser wood "padauk" is disputed by nobody`,
	Remedy: "Cite who says otherwise under against:, or take disputed: true out.",
	Run: func(p *Pass) {
		contradictions := p.contradicted()
		for d := range p.decisions {
			if d.disputed.Value && len(d.against) == 0 && len(contradictions[d.key()]) == 0 {
				p.Report(Finding{Pos: d.disputed.Pos, Message: d.name + " is disputed by nobody", Claims: claimsOf(d.claim)})
			}
		}
	},
}
