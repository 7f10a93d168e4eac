package checks

import "fmt"

var outerBounds = Check{
	Name: "outer-bounds", Family: Spans, Level: Warning,
	Meaning: "Claims to one year of several bear on each other in so many ways that not all were tried: each may keep years that the others exclude.",
	Example: `  - {id: oval-0, feature: maker-mark, value: oval, span: "[1947,1949..1978]", cites: ["letter-aldous"]}
  - {id: oval-1, feature: maker-mark, value: oval, span: "[1947,1949..1978]", cites: ["letter-aldous"]}
order:
  - {first: oval-0, how: equals, second: oval-1, cites: [letter-aldous]}
# and so on
→ maker's mark "oval" and 29 more claims were left at their outer bounds`,
	Remedy: "Write the years that a source gives as a stretch (1931/1985) where it means one, or tie fewer claims to each other by order.",
	Run: func(p *Pass) {
		for _, claims := range p.Timeline.Unsearched() {
			f := Finding{Pos: at(claims[0]), Claims: claims}
			for _, c := range claims[1:] {
				f.Why = append(f.Why, Place{Pos: at(c), Message: p.what(c) + " too"})
			}
			f.Message = p.what(claims[0]) + " was left at its outer bounds"
			if n := len(f.Why); n > 0 {
				f.Message = fmt.Sprintf("%s and %d more claims were left at their outer bounds", p.what(claims[0]), n)
			}
			p.Report(f)
		}
	},
}
