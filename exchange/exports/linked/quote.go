package linked

import (
	"fmt"
	"image"
	"net/url"

	"yearmark/exchange/exports/iiif"
	"yearmark/schema"
)

// nameQuotes gives an address to every place that a record lists and of which
// something is shown. Several places of one name are told apart by a number.
func (g *graph) nameQuotes() {
	g.quotes = map[*schema.SourcePlace]iri{}
	for _, s := range g.Ref.Sources.All() {
		if s.MayShow() == schema.ShowsNone {
			continue
		}
		named := map[string]int{}
		for _, place := range s.Places {
			anchor := schema.Citation{Place: place.At.Value}.Anchor()
			named[anchor]++
			if source, _ := g.segment(s, place); place.Says.Value != "" || source != "" {
				g.quotes[place] = iri(fmt.Sprintf("%s#Quote-%d-%s", s.Address(), named[anchor], anchor))
			}
		}
	}
}

// quote writes what stands at a place: its words, quoted from the source, and
// the part of the picture or recording in which one sees or hears them.
func (g *graph) quote(id iri, s *schema.Source, place *schema.SourcePlace) {
	n := node{ID: id, Type: []string{"prov:Entity"}, Words: place.Says.Value, Creator: place.SaidBy(), Pagination: place.At.Value, QuotedFrom: []iri{thing(s)}}
	var fragment string
	if n.HasSource, fragment = g.segment(s, place); n.HasSource != "" {
		n.Type = append(n.Type, "oa:SpecificResource")
	}
	if fragment != "" {
		n.HasSelector = &node{Type: []string{"oa:FragmentSelector"}, ConformsTo: iiif.MediaFragments, Fragment: fragment}
	}
	g.add(n)
}

// segment gives the published picture or recording in which one sees or hears a
// place, and which part of it, as a media fragment; empty where nothing is
// published, or all of it is meant.
func (g *graph) segment(s *schema.Source, place *schema.SourcePlace) (source iri, fragment string) {
	if s.MayShow() != schema.ShowsAll {
		return "", ""
	}
	if scan, ok := g.Published.Scan(place); ok {
		size := scan.Sizes[len(scan.Sizes)-1]
		if r, within := place.Region.Within(scan.Width, scan.Height); within && !place.Region.IsZero() {
			fragment = schema.Fragment(image.Rect(
				r.Min.X*size.Width/scan.Width, r.Min.Y*size.Height/scan.Height, r.Max.X*size.Width/scan.Width, r.Max.Y*size.Height/scan.Height,
			))
		}
		return file(size.Path), fragment
	}
	if span, timed := place.Locator().Time(); timed {
		if r, ok := g.Published.Recording(s); ok {
			return file(r.Path), span.Fragment()
		}
	}
	return "", ""
}

// file is the address of a file of the site.
func file(path string) iri { return iri((&url.URL{Path: path}).String()) }
