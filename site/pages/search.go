package pages

import (
	"yearmark/schema"
	"yearmark/schema/edtf"
)

// searchView is the search, and the plain index for those without it.
type searchView struct {
	Base     base
	Index    string // the way to the search's first file, or empty
	Tables   string // the way to the folder of the dating tables, or empty
	Makers   []anchor
	Kinds    []anchor
	Features []facetView
	Years    edtf.Range
	Plain    []indexGroup
	Indexes  []anchor
	Begin    beginView
}

// beginView is what people look for most, shown before a word is typed.
type beginView struct {
	Makers []anchor
	Models []cardView
	Marked string // the feature that the tiles are of
	Marks  []markTile
}

// markTile is a value as a picture that leads to what has it.
type markTile struct{ Name, Picture, Href string }

// beginModels is how many models are shown before a word is typed.
const beginModels = 24

// begin gives the makers and models, unless there are too many, and in pictures
// the values of the feature that has most of those that makers kept to strictly,
// as a mark is.
func (p *page) begin() beginView {
	var v beginView
	if p.ref.Makers.Len() <= beginModels {
		for _, m := range p.ref.Makers.All() {
			v.Makers = append(v.Makers, anchor{p.to(m.Address()), m.Title()})
		}
	}
	if p.ref.Models.Len() <= beginModels {
		v.Models = p.modelCards(p.byMade(p.ref.Models.All()))
	}
	for _, f := range p.ref.Features.All() {
		if f.Held.Value != "firm" || len(f.Values) > beginModels {
			continue
		}
		var marks []markTile
		for _, value := range f.Values {
			if picture := p.picture(value.Picture.Value); picture != "" {
				marks = append(marks, markTile{capital(f.ValueName(value.ID.Value)), picture, "#has=" + f.ID + "%3D" + value.ID.Value})
			}
		}
		if len(marks) > len(v.Marks) {
			v.Marked, v.Marks = f.Title(), marks
		}
	}
	return v
}

// facetView is a feature to search by, and its values.
type facetView struct {
	ID, Name, Ask string
	Values        []facetValue
}

type facetValue struct{ ID, Name, Picture string }

// plainEntries is how many records the plain index lists by name.
const plainEntries = 1500

// searchKinds are the kinds of document a search can be held to.
var searchKinds = []anchor{
	{"model", "Models"}, {"era", "Eras"}, {"maker", "Makers"}, {"feature", "Features"}, {"value", "Values"},
	{"source", "Sources"}, {"place", "Words in sources"}, {"example", "Examples"}, {"page", "Reading"},
}

func (p *page) search() searchView {
	horizon := p.ref.Horizon()
	v := searchView{
		Base:  p.base("Search", "Search the register by words, by what a bow looks like, and by year.", "search.html"),
		Index: p.searchRoot(), Tables: p.datingTables(), Kinds: searchKinds, Years: horizon,
	}
	v.Base.Scripts = scripts("search.js")
	if v.Index != "" {
		v.Base.Soon = []string{v.Index}
	}
	for _, m := range p.ref.Makers.All() {
		v.Makers = append(v.Makers, anchor{m.ID, m.Title()})
	}
	for _, f := range p.ref.Features.All() {
		if facet := p.facet(f); len(facet.Values) > 0 {
			v.Features = append(v.Features, facet)
		}
	}
	for _, ix := range []anchor{{"makers/index.html", "Makers"}, {"models/index.html", "Models"}, {"features/index.html", "Features"}, {"sources/index.html", "Sources"}, {"examples/index.html", "Examples"}, {"pages/index.html", "Reading"}} {
		v.Indexes = append(v.Indexes, anchor{p.to(ix.Href), ix.Text})
	}
	v.Plain, v.Begin = p.plainIndex(), p.begin()
	return v
}

// facet lists what a feature can be searched by: the values that can be seen.
func (p *page) facet(f *schema.Feature) facetView {
	v := facetView{ID: f.ID, Name: f.Title(), Ask: f.Ask.Value}
	switch schema.FeatureKind(f.Kind.Value) {
	case schema.Choice:
		for _, value := range f.Values {
			v.Values = append(v.Values, facetValue{value.ID.Value, capital(f.ValueName(value.ID.Value)), p.picture(value.Picture.Value)})
		}
	case schema.Presence:
		v.Values = []facetValue{{schema.Present, "Present", ""}, {schema.Absent, "Absent", ""}}
	}
	return v
}

// plainIndex lists every record by name, unless there are too many for a page.
func (p *page) plainIndex() []indexGroup {
	records := p.ref.Records()
	if len(records) > plainEntries {
		return nil
	}
	names := map[schema.Kind]string{
		schema.KindMaker: "Makers", schema.KindModel: "Models", schema.KindFeature: "Features",
		schema.KindSource: "Sources", schema.KindExample: "Examples", schema.KindPage: "Reading",
	}
	var groups []indexGroup
	for i, r := range records {
		if i == 0 || records[i-1].Header().Kind != r.Header().Kind {
			groups = append(groups, indexGroup{Name: anchor{Text: names[r.Header().Kind]}})
		}
		last := &groups[len(groups)-1]
		last.Lines = append(last.Lines, lineView{anchor: anchor{p.to(r.Address()), r.Title()}})
	}
	return groups
}
