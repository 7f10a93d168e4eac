package checks

import (
	"fmt"
	"strings"

	"yearmark/provenance"
	"yearmark/schema"
)

var oneOrigin = Check{
	Name: "one-origin", Family: Provenance, Level: Note,
	Meaning: "Several sources are cited, but all of them took the fact from one place: they are one witness, not several.",
	Example: `cites: ["bulletin-12, p. 3", "wells-book, p. 40"]
→ 2 sources cited go back to one: Letter from Aldous`,
	Remedy: "Nothing need be wrong. Cite the origin itself, or look for a witness that did not copy from it.",
	Run: func(p *Pass) {
		for c := range p.claims {
			cites := citations(c)
			if len(cites) < 2 {
				continue
			}
			n := p.differentSources(cites)
			if n < 2 || p.originsCited(cites) > 1 {
				continue
			}
			if list := p.Weighing.Of(c).For; len(list) == 1 {
				p.Report(Finding{
					Pos: cites[0].Pos, Claims: claimsOf(c), Why: p.ways(list[0]),
					Message: fmt.Sprintf("%d sources cited go back to one: %s", n, list[0].Origin.Title()),
				})
			}
		}
	},
}

// differentSources counts the sources and examples cited that are on record.
func (p *Pass) differentSources(cites []schema.Citation) int {
	n := 0
	for i, c := range cites {
		if !p.onRecord(c) {
			continue
		}
		n++
		for _, earlier := range cites[:i] {
			if earlier.Source == c.Source {
				n--
				break
			}
		}
	}
	return n
}

// onRecord says whether what is cited is there.
func (s *shared) onRecord(c schema.Citation) bool {
	_, known := s.Ref.Cited(c.Source)
	return known
}

// originsCited counts, up to two, the different sources cited that rely on
// nothing and so are origins themselves.
func (s *shared) originsCited(cites []schema.Citation) int {
	first := ""
	for _, c := range cites {
		if source, known := s.Ref.Sources.Get(c.Source); !known || len(source.ReliesOn) > 0 || c.Source == first {
			continue
		}
		if first != "" {
			return 2
		}
		first = c.Source
	}
	if first != "" {
		return 1
	}
	return 0
}

// ways tells how each citation leads to a witness.
func (p *Pass) ways(w provenance.Witness) []Place {
	var why []Place
	for i, c := range w.Cites {
		if via := w.Through(i); via != nil {
			why = append(why, Place{Pos: p.reliancePos(via[0], via[1]), Message: p.cite(c) + ", took it from " + strings.Join(p.titles(via[1:]), ", and that from ")})
			continue
		}
		why = append(why, Place{Pos: c.Pos, Message: p.cite(c) + ", is the origin itself"})
	}
	return why
}

// titles names sources and examples for people.
func (s *shared) titles(ids []string) []string {
	names := make([]string, len(ids))
	for i, id := range ids {
		names[i] = s.Ref.CitationTitle(schema.Citation{Source: id})
	}
	return names
}

// reliancePos is the place where a source's record names another.
func (s *shared) reliancePos(source, on string) schema.Pos {
	record, known := s.Ref.Sources.Get(source)
	if !known {
		return schema.Pos{}
	}
	for _, name := range record.ReliesOn {
		if name.Value == on {
			return name.Pos
		}
	}
	return record.Pos()
}
