package checks

import "yearmark/schema"

var placelessCitation = Check{
	Name: "placeless-citation", Family: Provenance, Level: Note,
	Meaning: "A source that lists what its places say is cited without a place, so that readers are led to no words.",
	Example: `{feature: riser-wood, value: padauk, span: 1958/1971, cites: ["list-1958, p. 2", letter-aldous]}
→ "letter-aldous" lists what its places say and is cited without one`,
	Remedy: "Write the place after a comma and put the whole in quotes: \"letter-aldous, sheet 2\".",
	Run: func(p *Pass) {
		for c := range p.placesCited {
			// place-missing speaks of kinds that have pages
			if c.source != nil && len(c.source.Places) > 0 && c.cite.Place == "" && !schema.SourceKind(c.source.Kind.Value).HasPages() {
				p.Reportf(c.cite.Pos, "%s lists what its places say and is cited without one", quote(c.cite.Source))
			}
		}
	},
}

// citedPlace is one citation, the source that it names, and the places of the
// source that it covers.
type citedPlace struct {
	statement
	cite    schema.Citation
	source  *schema.Source // nil where it is none
	places  []*schema.SourcePlace
	against bool
}

// placesCited yields every citation of every statement.
func (s *shared) placesCited(yield func(citedPlace) bool) {
	for statement := range s.statements {
		for i, cites := range [][]schema.Citation{statement.cites, statement.against} {
			for _, cite := range cites {
				c := citedPlace{statement: statement, cite: cite, against: i == 1}
				if source, known := s.Ref.Sources.Get(cite.Source); known {
					c.source, c.places = source, source.PlacesAt(cite.Place)
				}
				if !yield(c) {
					return
				}
			}
		}
	}
}
