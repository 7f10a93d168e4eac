package checks

import "yearmark/provenance"

var documentedHearsay = Check{
	Name: "documented-hearsay", Family: Examples, Level: Warning,
	Meaning: "An example's documented year goes back to what somebody remembers or to a page of the web alone. It is shown, but it neither teaches the dating nor tries it.",
	Example: `documented: {span: 1966, cites: [talk-aldous]} # what its seller was told
→ documented as 1966 by recollection or the web alone`,
	Remedy: "Cite the paper itself, if anybody has it; else move the year to `attributed`, where opinions stand.",
	Run: func(p *Pass) {
		for _, e := range p.Ref.Examples.All() {
			if d := e.Documented; d != nil && provenance.Hearsay(p.Ref, d.Cites) {
				p.Reportf(d.Pos, "documented as %s by recollection or the web alone", d.Span.String())
			}
		}
	},
}
