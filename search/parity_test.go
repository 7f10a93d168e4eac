package search

import (
	"path/filepath"
	"testing"

	"yearmark/chronology"
	"yearmark/schema"
	"yearmark/testdata/need"
)

// TestPageAnswersAsBleveDoes holds the page's engine to Bleve's own ranking:
// the same total, the same hits in the same order, scores to 1e-6.
func TestPageAnswersAsBleveDoes(t *testing.T) {
	need.Long(t)
	for _, c := range []struct {
		name      string
		docs      func() []Document
		index     func() *Index
		shards    func(*Index) (folder, root string)
		questions int
	}{
		{"demonstration", func() []Document { return demonstration(t) }, func() *Index { return build(t, demonstration(t)) }, func(ix *Index) (string, string) { return writeShards(t, ix) }, 1500},
		{"made", madeDocs, func() *Index { return madeBuilt(t) }, func(*Index) (string, string) { return writeMadeShards(t) }, 1500},
	} {
		t.Run(c.name, func(t *testing.T) {
			ix := c.index()
			folder, root := c.shards(ix)
			asked := questions(c.docs(), c.questions)
			list := make([]pageQuestion, len(asked))
			for i, q := range asked {
				list[i].Find = asPageQuery(q)
			}
			answers := ask[pageAnswer](t, page{folder: folder, root: root}, list)
			worst, wrong, found := 0.0, 0, 0
			for i, q := range asked {
				want, err := ix.Find(q)
				if err != nil {
					t.Fatalf("%+v: %v", q, err)
				}
				why, apart := disagreement(want, answers[i].Answer)
				worst = max(worst, apart)
				found += min(1, want.Total)
				if why != "" || apart > 1e-6 {
					wrong++
					if wrong <= 10 {
						t.Errorf("%+v: %s, scores %.2g apart\n got %d %v %v\nwant %d %v %v", q, why, apart, answers[i].Answer.Total, answers[i].Answer.Hits, answers[i].Answer.Corrected, want.Total, want.Hits, want.Corrected)
					}
				}
			}
			if wrong > 10 {
				t.Errorf("%d of %d questions were answered otherwise", wrong, len(asked))
			}
			t.Logf("%d questions, %d with answers; scores at most %.2g apart", len(asked), found, worst)
		})
	}
}

// madeBuilt is the index of the made reference.
func madeBuilt(t testing.TB) *Index {
	t.Helper()
	ix, err := madeIndex()
	if err != nil {
		t.Fatal(err)
	}
	return ix
}

// demonstration is every document of the demonstration reference, with the
// years that chronology gives it, as it is published.
func demonstration(t testing.TB) []Document {
	t.Helper()
	ref, problems, err := schema.Read(filepath.Join(need.Root(t), "content"))
	if err != nil {
		t.Fatal(err)
	}
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	return Documents(ref, chronology.Build(ref).Years)
}
