package checks

import "yearmark/schema"

var placeMissing = Check{
	Name: "place-missing", Family: Provenance, Level: Warning,
	Meaning: "A source that has pages is cited without saying where in it, so that the next reader must search it through.",
	Example: `{feature: riser-wood, value: padauk, span: 1958/1971, cites: [list-1958, letter-aldous]}
→ "list-1958" is a price-list cited without a place`,
	Remedy: "Write the page or part after a comma and put the whole in quotes: \"list-1964, p. 6\".",
	Run: func(p *Pass) {
		for s := range p.statements {
			for _, cites := range [][]schema.Citation{s.cites, s.against} {
				for _, c := range cites {
					source, known := p.Ref.Sources.Get(c.Source)
					if known && c.Place == "" && schema.SourceKind(source.Kind.Value).HasPages() {
						p.Reportf(c.Pos, "%s is %s cited without a place", quote(c.Source), withArticle(source.Kind.Value))
					}
				}
			}
		}
	},
}
