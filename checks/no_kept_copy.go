package checks

var noKeptCopy = Check{
	Name: "no-kept-copy", Family: Provenance, Level: Warning,
	Meaning: "A source is linked on the web, but no copy of what the link showed was kept; pages change and vanish.",
	Example: `link: https://example.org/halvane
→ no copy of this link was kept`,
	Remedy: "Save what the link shows with the club's papers and add copied: {on: 2026-10-01, sha256: …}.",
	Run: func(p *Pass) {
		for _, s := range p.Ref.Sources.All() {
			if s.Link.Value != "" && s.Copied == nil {
				p.Reportf(s.Link.Pos, "no copy of this link was kept")
			}
		}
	},
}
