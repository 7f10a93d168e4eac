package search

import (
	"slices"
	"testing"

	"pgregory.net/rapid"
)

// TestDocumentSet gives the documents of a set back, and those outside it.
func TestDocumentSet(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		of := rapid.IntRange(0, 200).Draw(t, "documents")
		var in, out []uint32
		for n := range uint32(of) {
			if rapid.Bool().Draw(t, "in the set") {
				in = append(in, n)
			} else {
				out = append(out, n)
			}
		}
		set := newDocumentSet(of)
		half := len(in) / 2
		set.add(in[half:])
		set.add(in[:half])
		if set.size != len(in) {
			t.Errorf("the set has %d documents, want %d", set.size, len(in))
		}
		if got := set.appendTo(nil, false); !slices.Equal(got, in) {
			t.Errorf("in the set of %d: got %v, want %v", of, got, in)
		}
		if got := set.appendTo(nil, true); !slices.Equal(got, out) {
			t.Errorf("outside the set of %d: got %v, want %v", of, got, out)
		}
	})
}
