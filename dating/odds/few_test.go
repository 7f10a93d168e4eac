package odds_test

import (
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"yearmark/dating/odds"
)

// withUnusedRows gives the same table with so many rows that no pair has that
// every query is one of few pairs.
func withUnusedRows(table *odds.Table) *odds.Table {
	padded := *table
	padded.Features = slices.Clone(table.Features)
	unused := 8*table.Pairs() + 1
	for i := range padded.Features {
		f := &padded.Features[i]
		f.Rows = append(slices.Repeat(f.Rows[:1], unused), f.Rows...)
		f.RowOf = slices.Clone(f.RowOf)
		for pair := range f.RowOf {
			f.RowOf[pair] += uint32(unused)
		}
	}
	return &padded
}

// TestFewPairsAreAnsweredAlike: going from pair to pair and going by rows give
// the same answers to the last bit.
func TestFewPairsAreAnsweredAlike(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		table := drawTable(t)
		q := drawQuery(t, table)
		many := withUnusedRows(table)
		want, got := table.Posterior(q), many.Posterior(q)
		if !slices.Equal(want.Chance, got.Chance) || want.Entropy != got.Entropy {
			t.Fatalf("odds %v, want %v", got.Chance, want.Chance)
		}
		if diff := cmp.Diff(table.Strict(q), many.Strict(q)); diff != "" {
			t.Fatal(diff)
		}
		if want.Impossible {
			return
		}
		pair := want.Pair(want.Best())
		if want, got := table.Decibans(q, pair), many.Decibans(q, pair); !slices.Equal(want, got) {
			t.Fatalf("decibans %v, want %v", got, want)
		}
	})
}
