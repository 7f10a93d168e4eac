package checks

import "fmt"

var reliesOnLater = Check{
	Name: "relies-on-later", Family: Provenance, Level: Error,
	Meaning: "A source is said to have taken facts from one that was issued only afterwards.",
	Example: `# sources/bulletin-12.md
issued: 1961
relies-on: [wells-book]      # issued 1978
→ a source of 1961 cannot rely on one of 1978`,
	Remedy: "Check both years of issue, and which of the two copied from the other.",
	Run: func(p *Pass) {
		for _, s := range p.Ref.Sources.All() {
			last, known := s.Issued.Latest()
			if !known {
				continue
			}
			for _, name := range s.ReliesOn {
				on, found := p.Ref.Sources.Get(name.Value)
				if !found {
					continue
				}
				if first, known := on.Issued.Earliest(); known && last < first {
					p.Report(Finding{
						Pos: name.Pos, Message: fmt.Sprintf("a source of %s cannot rely on one of %s", s.Issued, on.Issued),
						Why: []Place{
							{Pos: s.Issued.Pos, Message: fmt.Sprintf("%s was issued in %s", s.Title(), s.Issued)},
							{Pos: on.Issued.Pos, Message: fmt.Sprintf("%s was issued in %s", on.Title(), on.Issued)},
						},
					})
				}
			}
		}
	},
}
