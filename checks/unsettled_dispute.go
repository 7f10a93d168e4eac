package checks

import "slices"

var unsettledDispute = Check{
	Name: "unsettled-dispute", Family: Settling, Level: Error,
	Meaning: "A source is recorded as speaking against a statement, but the editor has neither settled the matter nor marked it as disputed. A slip that its speaker mended speaks against nothing.",
	Example: `{feature: riser-wood, value: padauk, span: 1958/1971, cites: ["list-1958, p. 2"], against: ["bulletin-12, p. 3"]}
→ riser wood "padauk" is contradicted and nobody has settled it`,
	Remedy: "Add settled: {because: \"…\", by: …, on: …} if the matter is decided, or disputed: true to show both sides.",
	Run: func(p *Pass) {
		for d := range p.decisions {
			if slices.ContainsFunc(d.Against, p.counts) && d.Settled == nil && !d.Disputed.Value {
				p.Report(Finding{
					Pos: d.Against[0].Pos, Message: d.name + " is contradicted and nobody has settled it",
					Why: p.sides(d), Claims: claimsOf(d.claim), Remedies: d.remedies(),
				})
			}
		}
	},
}
