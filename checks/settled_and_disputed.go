package checks

import "yearmark/schema"

var settledAndDisputed = Check{
	Name: "settled-and-disputed", Family: Settling, Level: Error,
	Meaning: "A statement is marked both as settled and as openly disputed; it cannot be both.",
	Example: `{feature: riser-wood, value: padauk, span: 1958/1971, cites: ["list-1958, p. 2"], against: ["bulletin-12, p. 3"], disputed: true, settled: {because: "The bulletin misreads the list"}}
→ riser wood "padauk" is both settled and disputed`,
	Remedy: "Keep settled: if the matter is decided, and disputed: true if it is not.",
	Run: func(p *Pass) {
		for d := range p.decisions {
			if d.Settled != nil && d.Disputed.Value {
				p.Report(Finding{
					Pos: d.Disputed.Pos, Message: d.name + " is both settled and disputed", Claims: claimsOf(d.claim),
					Why:      []Place{{Pos: d.Settled.Pos, Message: "it was settled here"}},
					Remedies: []schema.Remedy{schema.Erase("Keep it settled", d.base(), "disputed"), schema.Erase("Leave it open, and take the settlement out", d.base(), "settled")},
				})
			}
		}
	},
}
