package edits

import (
	"testing"

	"pgregory.net/rapid"
)

func between(a, b string, limit int) int { return Distance([]rune(a), []rune(b), limit) }

// TestDistance: known pairs (from memory: the textbook examples of Levenshtein
// and Damerau), and that it is a distance.
func TestDistance(t *testing.T) {
	for _, test := range []struct {
		a, b string
		want int
	}{{"kitten", "sitting", 3}, {"flaw", "lawn", 2}, {"ca", "ac", 1}, {"", "abc", 3}, {"same", "same", 0}, {"été", "ete", 2}} {
		if got := between(test.a, test.b, 10); got != test.want {
			t.Errorf("%q to %q: %d", test.a, test.b, got)
		}
	}
	word := rapid.StringMatching(`[ab-]{0,6}`)
	rapid.Check(t, func(t *rapid.T) {
		a, b := word.Draw(t, "a"), word.Draw(t, "b")
		d := between(a, b, 10)
		if d != between(b, a, 10) || (d == 0) != (a == b) || d > max(len(a), len(b)) {
			t.Fatalf("%q to %q: %d", a, b, d)
		}
		limit := rapid.IntRange(0, 4).Draw(t, "limit")
		if got := between(a, b, limit); got != min(d, limit+1) {
			t.Fatalf("%q to %q within %d: %d", a, b, limit, got)
		}
	})
}

// TestDistanceWithin: kitten and sitting are Levenshtein's usual example; ca and abc
// part optimal string alignment (3) from the unrestricted distance (2), as in L. Boytsov, Indexing
// methods for approximate dictionary searching, ACM JEA 16 (2011).
func TestDistanceWithin(t *testing.T) {
	for _, c := range []struct {
		a, b        string
		limit, want int
	}{
		{"kitten", "sitting", 3, 3}, {"kitten", "sitting", 2, 3}, {"ca", "abc", 3, 3}, {"padauk", "paduak", 2, 1},
		{"padauk", "padauk", 1, 0}, {"", "ab", 2, 2}, {"halvane", "halvanes", 1, 1}, {"sàpele", "sapele", 1, 1}, {"abc", "xyz", 1, 2},
	} {
		if got := between(c.a, c.b, c.limit); got != c.want {
			t.Errorf("%s, %s within %d: got %d, want %d", c.a, c.b, c.limit, got, c.want)
		}
		if got := between(c.b, c.a, c.limit); got != c.want {
			t.Errorf("%s, %s within %d: got %d, want %d", c.b, c.a, c.limit, got, c.want)
		}
	}
}
