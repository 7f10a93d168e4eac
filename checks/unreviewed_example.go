package checks

var unreviewedExample = Check{
	Name: "unreviewed-example", Family: Examples, Level: Warning,
	Meaning: "An example came from a visitor and the editor has not looked it over yet.",
	Example: `submitted: {on: 2026-11-02, edition: "2026-10-14 3f9a0c1d22aa"}
→ this example has not been looked over`,
	Remedy: "Look it over, and add reviewed: with the day to submitted; or take the record out.",
	Run: func(p *Pass) {
		for _, e := range p.Ref.Examples.All() {
			if e.Unreviewed() {
				p.Reportf(e.Submitted.Pos, "this example has not been looked over")
			}
		}
	},
}
