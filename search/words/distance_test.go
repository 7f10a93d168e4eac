package words

import "testing"

// TestDistance: kitten and sitting are Levenshtein's usual example; ca and abc
// part optimal string alignment (3) from the unrestricted distance (2), as in L. Boytsov, Indexing
// methods for approximate dictionary searching, ACM JEA 16 (2011).
func TestDistance(t *testing.T) {
	for _, c := range []struct {
		a, b        string
		limit, want int
	}{
		{"kitten", "sitting", 3, 3}, {"kitten", "sitting", 2, 3}, {"ca", "abc", 3, 3}, {"padauk", "paduak", 2, 1},
		{"padauk", "padauk", 1, 0}, {"", "ab", 2, 2}, {"halvane", "halvanes", 1, 1}, {"sàpele", "sapele", 1, 1}, {"abc", "xyz", 1, 2},
	} {
		if got := Distance([]rune(c.a), []rune(c.b), c.limit); got != c.want {
			t.Errorf("%s, %s within %d: got %d, want %d", c.a, c.b, c.limit, got, c.want)
		}
		if got := Distance([]rune(c.b), []rune(c.a), c.limit); got != c.want {
			t.Errorf("%s, %s within %d: got %d, want %d", c.b, c.a, c.limit, got, c.want)
		}
	}
}
