package pages

import (
	"yearmark/schema"
	"yearmark/site/prose"
)

// textView is a record's prose with its notes.
type textView struct {
	HTML     string // of package prose
	Headings []prose.Heading
	Notes    []noteView
}

// noteView is one numbered note at the end of a page.
type noteView struct {
	ID     string
	Number int
	Source citeView
	Marks  []string
}

// textPrefix begins the identifiers within prose. It has a capital, which no
// claim's identifier can have; so have the identifiers of a page's sections.
const textPrefix = "Text"

// text renders a record's prose. within is the record that a bare claim name belongs to.
func (p *page) text(body schema.Prose, within schema.Record) textView {
	d := prose.Render(body.Text, prose.Options{Links: links{p, within}, Prefix: textPrefix})
	v := textView{HTML: d.HTML, Headings: d.Headings}
	for _, n := range d.Notes {
		cite := citeView{Href: n.Source.Address, Text: n.Source.Title, Place: n.Place}
		named := schema.Citation{Source: n.Of, Place: n.Place}
		if p.restingOn(n.Of).has(n.Place) {
			cite.Href += "#" + named.Anchor()
		} else if listed := p.ref.Quoted(named); len(listed) > 0 {
			cite.Href += "#" + schema.Citation{Place: listed[0].At.Value}.Anchor()
		}
		if s, ok := p.ref.Sources.Get(n.Of); ok {
			cite.Opens = p.quotes.open(p, s, named, cite.Href)
		}
		v.Notes = append(v.Notes, noteView{ID: n.ID, Number: n.Number, Source: cite, Marks: n.Marks})
	}
	return v
}

// links resolves the addresses in one record's prose.
type links struct {
	*page
	within schema.Record
}

// Resolve finds what an address of ours points at.
func (l links) Resolve(kind, id string) (prose.Target, bool) {
	if kind == "claim" {
		c, ok := l.ref.ClaimNamed(id, l.within)
		if !ok {
			return prose.Target{}, false
		}
		return prose.Target{Address: l.to(c.Address()), Title: l.whole(c)}, true
	}
	r, ok := l.record(schema.Kind(kind), id)
	if !ok {
		return prose.Target{}, false
	}
	return prose.Target{Address: l.to(r.Address()), Title: r.Title()}, true
}

// record finds a record of any kind; a source may be an example, as citations name it.
func (s *Site) record(kind schema.Kind, id string) (schema.Record, bool) {
	if kind == schema.KindSource {
		return s.ref.Cited(id)
	}
	return s.ref.Record(kind, id)
}

// Picture finds a picture that the site shows.
func (l links) Picture(path string) (prose.Picture, bool) {
	v, ok := l.pictureOf(path, "")
	return prose.Picture{Address: v.Src, Width: v.Width, Height: v.Height}, ok
}
