package checks

var unseenSource = Check{
	Name: "unseen-source", Family: Provenance, Level: Note,
	Meaning: "A source is cited directly although its record says that nobody of the register has seen it.",
	Example: `# sources/trade-paper-1961.md
consulted: false
# models/plover.md
cites: ["trade-paper-1961, p. 4"]
→ "trade-paper-1961" is cited though nobody has seen it`,
	Remedy: "Cite the source you read it in, and let that one rely on it; or see it and take out consulted: false.",
	Run: func(p *Pass) {
		for s := range p.statements {
			for _, c := range s.cites {
				source, known := p.Ref.Sources.Get(c.Source)
				if !known || source.Consulted.Pos.IsZero() || source.Consulted.Value {
					continue
				}
				p.Report(Finding{
					Pos: c.Pos, Message: quote(c.Source) + " is cited though nobody has seen it", Claims: claimsOf(s.claim),
					Why: []Place{{Pos: source.Consulted.Pos, Message: source.Title() + " was not consulted"}},
				})
			}
		}
	},
}
