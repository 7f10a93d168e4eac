package checks

var documentedUnlikely = Check{
	Name: "documented-unlikely", Family: Examples, Level: Note, needsDater: true,
	Meaning: "An example's documented year is possible by its features, but lies outside the 95 % set that the engine gives for it. About one example in twenty should.",
	Example: `# its mark came in 1966, give or take two years
documented: {span: 1964, cites: [letter-aldous]}
→ documented as 1964, outside the likely 1968–1971`,
	Remedy: "Nothing need be wrong. If many examples are found here, the claims are surer than they should be.",
	Run: func(p *Pass) {
		for i, e := range p.Ref.Examples.All() {
			v := p.verdicts()[i]
			if !v.Dated || len(v.Likely) == 0 || e.Documented == nil || len(possibleYears(p.Ref.Years(e.Documented.Span)).with(yearsOf(v.Years))) == 0 {
				continue // documented-outside says so, or impossible-example
			}
			p.documented(e, v.Likely, "documented as %s, outside the likely %s")
		}
	},
}
