package search

import (
	"maps"
	"slices"
	"testing"
)

// TestPageCountsAndSuggestsAlike holds the page's counts beside each choice, and its suggestions, to Go's.
func TestPageCountsAndSuggestsAlike(t *testing.T) {
	docs := demonstration(t)
	ix := build(t, docs)
	folder, root := writeShards(t, ix)
	asked := questions(docs, 120)
	names := []string{"riser-wood", "maker-mark", "draw-weight", "no-such"}
	var facets, starts []pageQuestion
	var words []string
	for _, q := range asked {
		q.Limit, q.Offset = 0, 0
		facets = append(facets, pageQuestion{Facets: asPageQuery(q), Names: names})
		for n := range len(q.Words) {
			if n < 8 {
				start := q.Words[:n]
				words = append(words, start)
				starts = append(starts, pageQuestion{Suggest: &start, Limit: 5})
			}
		}
	}
	counted := 0
	for i, got := range ask[Facets](t, page{folder: folder, root: root}, facets) {
		want, err := ix.Facets(asked[i], names)
		if err != nil {
			t.Fatal(err)
		}
		g := got.Answer
		same := g.Total == want.Total && maps.Equal(g.Kinds, want.Kinds) && maps.Equal(g.Makers, want.Makers) &&
			maps.EqualFunc(g.Features, want.Features, maps.Equal[map[string]int])
		if !same {
			t.Errorf("%+v:\npage %+v\n  go %+v", asked[i], g, want)
		}
		counted += len(want.Features["riser-wood"])
	}
	if counted == 0 {
		t.Error("no question counted any wood")
	}
	for i, got := range ask[[]string](t, page{folder: folder, root: root}, starts) {
		want, err := ix.Suggest(words[i], 5)
		if err != nil {
			t.Fatal(err)
		}
		if !slices.Equal(got.Answer, want) {
			t.Errorf("%q: page %v, go %v", words[i], got.Answer, want)
		}
	}
}

// TestFacetsCountWhatChoosingWouldGive counts each choice by asking for it.
func TestFacetsCountWhatChoosingWouldGive(t *testing.T) {
	docs := demonstration(t)
	ix := build(t, docs)
	for _, q := range []Query{{}, {Kinds: []string{KindModel, KindEra}}, {Words: "bow", Features: []string{"riser-wood=padauk"}}, {Maker: "halvane", Kinds: []string{KindEra}}} {
		f, err := ix.Facets(q, []string{"riser-wood", "maker-mark"})
		if err != nil {
			t.Fatal(err)
		}
		total := func(q Query) int {
			r, err := ix.Find(q)
			if err != nil {
				t.Fatal(err)
			}
			return r.Total
		}
		if n := total(q); n != f.Total {
			t.Errorf("%+v: counted %d, found %d", q, f.Total, n)
		}
		for kind, n := range f.Kinds {
			asked := q
			asked.Kinds = []string{kind}
			if got := total(asked); got != n {
				t.Errorf("%+v: counted %d of kind %s, found %d", q, n, kind, got)
			}
		}
		for value, n := range f.Features["maker-mark"] {
			asked := q
			asked.Features = append(slices.Clone(q.Features), "maker-mark="+value)
			if got := total(asked); got != n {
				t.Errorf("%+v: counted %d with the mark %s, found %d", q, n, value, got)
			}
		}
	}
}
