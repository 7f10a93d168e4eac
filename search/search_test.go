package search

import (
	"context"
	"slices"
	"testing"

	"yearmark/schema/edtf"
)

// small is a reference of three documents.
func small() []Document {
	return []Document{
		{
			Kind: KindModel, ID: "plover", Title: "Plover", Address: "models/plover.html", Maker: "halvane", First: 1958, Last: 1971,
			Text: "A target bow with a padauk riser. The oval mark. H-24",
			Holds: []Held{
				{Feature: "riser-wood", Value: "padauk", First: 1960, Last: 1963, Claim: "models/plover.html#padauk"},
				{Feature: "maker-mark", Value: "oval", First: 1963, Last: 1967},
				{Feature: "maker-mark", Value: "script", First: 1968, Last: 1971},
				{Feature: "draw-weight", Value: "30..55 lb", Low: 30, High: 55, IsFigure: true},
			},
		},
		{Kind: KindModel, ID: "dunlin", Title: "Dunlin", Address: "models/dunlin.html", Maker: "halvane", First: 1970, Last: 1975, Text: "Another bow, cherry riser. Marked ovals."},
		{Kind: KindPage, ID: "cautions", Title: "Cautions", Address: "pages/cautions.html", Text: "Old bows break."},
	}
}

func build(t testing.TB, docs []Document) *Index {
	t.Helper()
	ix, err := Build(t.Context(), docs)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { ix.Close() })
	return ix
}

func TestFindBySmallQuestions(t *testing.T) {
	ix := build(t, small())
	plover, dunlin, cautions := "models/plover.html", "models/dunlin.html", "pages/cautions.html"
	for _, c := range []struct {
		name string
		q    Query
		want []string
	}{
		{"a word and its endings", Query{Words: "risers"}, []string{dunlin, plover}},
		{"a misspelling", Query{Words: "plovr"}, []string{plover}},
		{"two letters swapped", Query{Words: "paduak"}, []string{plover}},
		{"a phrase", Query{Words: `"oval mark"`}, []string{plover}},
		{"a phrase the wrong way round", Query{Words: `"riser padauk"`}, nil},
		{"a beginning while typing", Query{Words: "pad", Typing: true}, []string{plover}},
		{"a beginning by its sign", Query{Words: "dunl*"}, []string{dunlin}},
		{"a model number", Query{Words: "h 24"}, []string{plover}},
		{"another model number is another thing", Query{Words: "h25"}, nil},
		{"nothing asked", Query{}, []string{dunlin, plover, cautions}},
		{"a kind", Query{Kinds: []string{KindModel}}, []string{dunlin, plover}},
		{"two kinds", Query{Kinds: []string{KindModel, KindPage}}, []string{dunlin, plover, cautions}},
		{"a maker and a word", Query{Words: "bow", Maker: "halvane"}, []string{dunlin, plover}},
		{"a feature", Query{Features: []string{"riser-wood=padauk"}}, []string{plover}},
		{"a figure within a range", Query{Features: []string{"draw-weight=40"}}, []string{plover}},
		{"a figure outside it", Query{Features: []string{"draw-weight=60"}}, nil},
		{"two features that share a year", Query{Features: []string{"riser-wood=padauk", "maker-mark=oval"}}, []string{plover}},
		{"two that never do", Query{Features: []string{"riser-wood=padauk", "maker-mark=script"}}, nil},
		{"a feature in its years", Query{Features: []string{"riser-wood=padauk"}, Years: edtf.Range{First: 1963, Last: 1980}}, []string{plover}},
		{"a feature in other years of its model", Query{Features: []string{"riser-wood=padauk"}, Years: edtf.Range{First: 1964, Last: 1980}}, nil},
		{"years", Query{Years: edtf.Range{First: 1972, Last: 1973}}, []string{dunlin}},
		{"the figure of a model number", Query{Words: "x24"}, []string{plover}},
		{"words of grammar alone", Query{Words: "what is it"}, nil},
	} {
		r, err := ix.Find(c.q)
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		var got []string
		for _, h := range r.Hits {
			got = append(got, h.Address)
		}
		if !slices.Equal(got, c.want) || r.Total != len(c.want) {
			t.Errorf("%s: got %v of %d, want %v", c.name, got, r.Total, c.want)
		}
	}
}

// FuzzFind holds Find to its promise that no character is an error.
func FuzzFind(f *testing.F) {
	for _, s := range []string{`"oval mark" pad*`, `7 1/4" h-24`, `+-~^:\/()[]{}`, "\"", "\"\"", "*", "ﬁ é \xff", "title:x AND NOT y"} {
		f.Add(s, "riser-wood=padauk", 1960, 1970)
	}
	ix, err := Build(context.Background(), small())
	if err != nil {
		f.Fatal(err)
	}
	f.Fuzz(func(t *testing.T, typed, feature string, first, last int) {
		q := Query{Words: typed, Typing: len(typed)%2 == 0, Features: []string{feature}, Years: edtf.Range{First: first, Last: last}, Limit: first, Offset: last}
		for _, q := range []Query{q, {Words: typed}, {Words: typed, Typing: true}} {
			r, err := ix.Find(q)
			if err != nil {
				t.Fatalf("%+v: %v", q, err)
			}
			if len(r.Hits) > r.Total {
				t.Fatalf("%+v: %d hits of %d", q, len(r.Hits), r.Total)
			}
		}
		if _, err := ix.Suggest(typed, 5); err != nil {
			t.Fatal(err)
		}
		if _, err := ix.Facets(q, []string{"riser-wood", feature}); err != nil {
			t.Fatal(err)
		}
	})
}
