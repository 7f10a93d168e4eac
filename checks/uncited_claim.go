package checks

var uncitedClaim = Check{
	Name: "uncited-claim", Family: Provenance, Level: Error,
	Meaning: "A claim names no source, so that nobody can follow it back or weigh it.",
	Example: `features:
  - {feature: riser-wood, value: padauk, span: 1958/1971}
→ nobody is cited for riser wood "padauk"`,
	Remedy: "Add cites: with a source and the place in it; where the club simply remembers it, write a source of kind recollection.",
	Run: func(p *Pass) {
		for c := range p.claims {
			if len(citations(c)) > 0 {
				continue
			}
			p.Report(Finding{Pos: subjectPos(c), Message: "nobody is cited for " + p.what(c), Claims: claimsOf(c), Missing: c.Pos.File()})
		}
	},
}
