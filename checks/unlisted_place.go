package checks

var unlistedPlace = Check{
	Name: "unlisted-place", Family: Provenance, Level: Note,
	Meaning: "A place is cited that its source does not list, though it lists others: readers see no words there.",
	Example: `{feature: riser-wood, value: padauk, span: 1958/1971, cites: ["list-1958, p. 2", "list-1971, p. 9"]}
→ "list-1958" lists no place "p. 2"`,
	Remedy: "Add it to the source's places with its words, {at: p. 9, says: \"…\"}, or mend the place here.",
	Run: func(p *Pass) {
		for c := range p.placesCited {
			if c.source != nil && len(c.source.Places) > 0 && c.cite.Place != "" && len(c.places) == 0 {
				p.Reportf(c.cite.Pos, "%s lists no place %s", quote(c.cite.Source), quote(c.cite.Place))
			}
		}
	},
}
