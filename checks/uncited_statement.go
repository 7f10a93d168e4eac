package checks

var uncitedStatement = Check{
	Name: "uncited-statement", Family: Provenance, Level: Warning,
	Meaning: "An order, a tie between models, a figure of output, a reading of weight marks, a documented year or a sale names no source.",
	Example: `order:
  - {first: oval-mark, how: meets, second: script-mark}
→ nobody is cited for the order "oval-mark" meets "script-mark"`,
	Remedy: "Add cites: with a source and the place in it.",
	Run: func(p *Pass) {
		for _, s := range p.others() {
			if len(s.cites) == 0 {
				p.Reportf(s.pos, "nobody is cited for %s", s.name)
			}
		}
	},
}
