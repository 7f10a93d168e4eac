package checks

import (
	"fmt"
	"slices"
	"strings"

	"yearmark/provenance"
	"yearmark/schema"
)

var oneOrigin = Check{
	Name: "one-origin", Family: Provenance, Level: Note,
	Meaning: "Several sources are cited, but every way back from them goes through one source: they are one witness, not several.",
	Example: `cites: ["bulletin-12, p. 3", "wells-book, p. 40"]
→ 2 sources cited go back to one: Letter from Aldous`,
	Remedy: "Nothing need be wrong. Cite the origin itself, or look for a witness that does not rely on it. Where a page has the fact from elsewhere, or its writer saw the thing, list the page under places: in the source's record with relies-on: or own: true.",
	Run: func(p *Pass) {
		for c := range p.claims {
			cites := citations(c)
			if len(cites) < 2 {
				continue
			}
			n := p.differentSources(cites)
			if n < 2 || p.Weighing.Of(c).For.Witnesses != 1 {
				continue
			}
			through, _ := p.Weighing.Through(cites)
			message := "%d sources cited go back to one: %s"
			if !slices.Equal(p.Weighing.Origins(through), []string{through}) {
				message = "%d sources cited have it through one: %s"
			}
			p.Report(Finding{
				Pos: cites[0].Pos, Claims: claimsOf(c), Why: p.ways(cites),
				Message: fmt.Sprintf(message, n, p.title(through)),
			})
		}
	},
}

// differentSources counts the sources and examples cited that are on record.
func (p *Pass) differentSources(cites []schema.Citation) int {
	n := 0
	for i, c := range cites {
		if _, known := p.Ref.Cited(c.Source); known && !slices.ContainsFunc(cites[:i], func(d schema.Citation) bool { return d.Source == c.Source }) {
			n++
		}
	}
	return n
}

// ways says how each citation leads to origins, as far as the records state it.
func (p *Pass) ways(cites []schema.Citation) []Place {
	var why []Place
	for _, s := range p.Weighing.Supports(cites) {
		for _, way := range s.Ways {
			why = append(why, p.wayBack(s.Cite, way))
		}
	}
	return why
}

// wayBack says of one way what the records state: of the very place cited that
// it took the fact from elsewhere or is the writer's own, else what the source
// as a whole relies on.
func (p *Pass) wayBack(c schema.Citation, way provenance.Way) Place {
	cited := p.cite(c)
	if len(way.Sources) == 1 {
		if way.Place != nil {
			return Place{Pos: way.Place.Own.Pos, Message: cited + ", is the writer's own"}
		}
		return Place{Pos: c.Pos, Message: cited + ", relies on no other source"}
	}
	var titles []string
	for _, id := range way.Sources[1:] {
		titles = append(titles, p.title(id))
	}
	beyond := strings.Join(titles, ", which relies on ")
	if way.Place != nil {
		return Place{Pos: namePos(way.Place.ReliesOn, way.Sources[1], way.Place.Pos), Message: cited + ", took it from " + beyond}
	}
	return Place{Pos: p.reliancePos(way.Sources[0], way.Sources[1]), Message: cited + ": the source relies on " + beyond}
}

// title names a source or example for people.
func (s *shared) title(id string) string { return s.Ref.CitationTitle(schema.Citation{Source: id}) }

// reliancePos is the place where a source's record names another.
func (s *shared) reliancePos(source, on string) schema.Pos {
	record, known := s.Ref.Sources.Get(source)
	if !known {
		return schema.Pos{}
	}
	return namePos(record.ReliesOn, on, record.Pos())
}

// namePos is where a name stands in a list, or else the position given.
func namePos(list []schema.Text, name string, otherwise schema.Pos) schema.Pos {
	if i := slices.IndexFunc(list, func(t schema.Text) bool { return t.Value == name }); i >= 0 {
		return list[i].Pos
	}
	return otherwise
}
