package checks

import (
	"strings"

	"yearmark/schema"
)

var uncitedSource = Check{
	Name: "uncited-source", Family: Provenance, Level: Note, absence: true,
	Meaning: "A source is on record, but no claim, example, page or other source cites it.",
	Example: `# sources/list-1959.md, which nothing cites
record: source
→ nothing cites this source`,
	Remedy: "Cite it where it says something, or take its record out.",
	Run: func(p *Pass) {
		cited := p.cited()
		for _, s := range p.Ref.Sources.All() {
			if !cited[s.ID] {
				at := s.Name.Pos
				if at.IsZero() {
					at = s.Pos()
				}
				p.Reportf(at, "nothing cites this source")
			}
		}
	},
}

// findCited gives the identifiers of all sources that anything cites.
func (s *shared) findCited() map[string]bool {
	cited := make(map[string]bool, s.Ref.Sources.Len())
	enter := func(cites []schema.Citation) {
		for _, c := range cites {
			cited[c.Source] = true
		}
	}
	for st := range s.statements {
		enter(st.cites)
		enter(st.against)
	}
	for _, source := range s.Ref.Sources.All() {
		for _, name := range source.ReliesOn {
			if name.Value != source.ID {
				cited[name.Value] = true
			}
		}
	}
	for _, e := range s.prose() {
		for _, l := range e.links {
			if id, ok := strings.CutPrefix(l.text, "source:"); ok && e.record.Header().ID != id {
				cited[id] = true
			}
		}
	}
	return cited
}
