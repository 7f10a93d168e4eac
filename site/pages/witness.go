package pages

import (
	"slices"
	"strconv"
	"strings"

	"yearmark/schema"
	"yearmark/schema/english"
)

// supportView is one citation, how far it is believed by itself, and what it
// goes back to.
type supportView struct {
	Cite     citeView
	Above    bool     // it stands in the open already
	Notes    []string // what its record says of the place
	Ways     []wayView
	More     bool   // there are more ways than these
	Kind     string // of its source; empty for an example
	Credence string
	Seen     string // the years in which it shows what is claimed
}

// plain says that there is nothing to say of it but its kind and how far it is believed.
func (v supportView) plain() bool {
	return v.Kind != "" && len(v.Notes)+len(v.Ways) == 0 && v.Seen == ""
}

// remarks is what stands in brackets behind the citation.
func (v supportView) remarks() string {
	list := append([]string{v.Kind}, v.Notes...)
	if v.Kind == "" {
		list = list[1:]
	}
	if v.Seen != "" {
		list = append(list, "seen in "+v.Seen)
	}
	return strings.Join(append(list, "believed "+v.Credence), ", ")
}

// wayView is the sources from the one cited to an origin; Words lead to the first.
type wayView struct {
	Words   string
	Sources []anchor
}

// witnesses shows what is cited for a claim, each place once, with the years in
// which it saw what is claimed. The one that stands in the open is marked: the
// first that leads to words, else the first.
func (p *page) witnesses(c *schema.Claim) []supportView {
	var cites []schema.Citation
	for _, cite := range c.Citations() {
		if placeIn(cites, cite) < 0 {
			cites = append(cites, cite)
		}
	}
	seen := make([][]string, len(cites))
	for _, a := range c.Attested {
		for _, cite := range a.Cites {
			if i := placeIn(cites, cite); i >= 0 {
				seen[i] = append(seen[i], strconv.Itoa(a.Year.Value))
			}
		}
	}
	views := p.supports(cites)
	for i := range views {
		views[i].Seen = english.And(seen[i])
	}
	if len(views) > 0 {
		views[max(0, slices.IndexFunc(cites, func(c schema.Citation) bool { return p.ref.Words(c) != nil }))].Above = true
	}
	return views
}

// placeIn finds a citation by what it names, wherever it is written; -1 where it is not there.
func placeIn(list []schema.Citation, c schema.Citation) int {
	return slices.IndexFunc(list, func(other schema.Citation) bool { return other.Source == c.Source && other.Place == c.Place })
}

// hedgeWords say how sure the writer or speaker was at a place.
var hedgeWords = map[string]string{"fairly": "fairly sure, in its own words", "unsure": "unsure, in its own words"}

// supports shows citations with what each goes back to, as far as records state it.
func (p *page) supports(cites []schema.Citation) []supportView {
	views := make([]supportView, 0, len(cites))
	for _, s := range p.facts.Weighing.Supports(cites) {
		v := supportView{Cite: p.cite(s.Cite), Kind: p.citedKind(s.Cite), Credence: belief(s.Chance), More: s.More, Notes: p.placeNotes(s.Cite)}
		if len(s.Ways) == 0 && len(v.Notes) == 0 {
			v.Notes = []string{"relies only on sources that rely on each other, which counts for nothing"}
		}
		for _, way := range s.Ways {
			if len(way.Sources) == 1 {
				continue
			}
			w := wayView{Words: "which relies on"}
			if way.Place != nil {
				w.Words = way.Place.At.Value + " took it from"
			}
			for _, id := range way.Sources[1:] {
				w.Sources = append(w.Sources, p.sourceAnchor(id))
			}
			v.Ways = append(v.Ways, w)
		}
		views = append(views, v)
	}
	return views
}

// citedKind names the kind of the source cited, in lower case; nothing for an example.
func (p *page) citedKind(c schema.Citation) string {
	if s, ok := p.ref.Sources.Get(c.Source); ok {
		return kindWords[schema.SourceKind(s.Kind.Value)]
	}
	return ""
}

// placeNotes says what a source's record says of the places cited: how sure the
// speaker was, and what counts for nothing.
func (p *page) placeNotes(c schema.Citation) []string {
	s, known := p.ref.Sources.Get(c.Source)
	if !known {
		if _, example := p.ref.Cited(c.Source); !example {
			return []string{"not on record"}
		}
		return nil
	}
	var notes []string
	places := s.PlacesAt(c.Place)
	for _, place := range places {
		note := func(words string) {
			if len(places) > 1 {
				words = place.At.Value + " " + words
			}
			notes = append(notes, words)
		}
		switch {
		case place.CorrectedAt.Value != "":
			note("a slip, mended at " + place.CorrectedAt.Value + ", which counts for nothing")
		case place.Hedge.Value != "":
			note(hedgeWords[place.Hedge.Value])
		}
		if place.Own.Value {
			note("the writer’s own")
		}
	}
	return notes
}
