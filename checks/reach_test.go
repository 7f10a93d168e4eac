package checks

import (
	"slices"
	"testing"
)

// TestReach: how people write addresses and numbers is common practice, no
// source; the numbers are from ranges kept for fiction.
func TestReach(t *testing.T) {
	for text, want := range map[string][]string{
		"write to w.aldous@bows.example.org":         {"w.aldous@bows.example.org"},
		"ring 01632 960 123 after six":               {"01632 960 123"},
		"kept at 14 Garnett Street, Fellside":        {"14 Garnett Street"},
		"the letter came from ZZ9 4ZZ":               {"ZZ9 4ZZ"},
		"Halvane price list, 1964, p. 6":             nil,
		"serial 65-172, 1964 to 1967, 28 lb at 26":   nil,
		"the Street Lane works closed in 1967":       nil,
		"walnut riser, 66 inches, brace height 7 in": nil,
	} {
		if got := Reach(text); !slices.Equal(got, want) {
			t.Errorf("%q holds %q, want %q", text, got, want)
		}
	}
}
