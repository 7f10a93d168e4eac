package checks

import "yearmark/provenance"

var recollectionOnly = Check{
	Name: "recollection-only", Family: Provenance, Level: Note,
	Meaning: "All that is cited for a claim goes back to what somebody remembers.",
	Example: `{feature: riser-wood, value: padauk, span: 1958/1971, cites: [talk-aldous]}
→ riser wood "padauk" rests on recollection alone`,
	Remedy: "Nothing need be wrong. Look for a list, an advertisement or a dated bow that bears it out.",
	Run: func(p *Pass) {
		for c := range p.claims {
			if provenance.OnlyRecollection(p.Ref, citations(c)) {
				p.Report(Finding{Pos: subjectPos(c), Message: p.what(c) + " rests on recollection alone", Claims: claimsOf(c)})
			}
		}
	},
}
