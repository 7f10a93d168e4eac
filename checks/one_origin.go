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
			cites := c.Citations()
			if len(cites) < 2 {
				continue
			}
			n := p.differentSources(cites)
			if n < 2 {
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
		if len(p.Weighing.Origins(c.Source)) == 0 {
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

// ways tells how each citation leads to a witness.
func (p *Pass) ways(w provenance.Witness) []Place {
	var why []Place
	for i, c := range w.Cites {
		if via := w.Via[i]; len(via) > 1 {
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
