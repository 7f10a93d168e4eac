package schema_test

import (
	"strconv"
	"strings"
	"testing"
	"unicode"

	"pgregory.net/rapid"

	"yearmark/schema"
)

func TestCitationAnchors(t *testing.T) {
	for place, want := range map[string]string{
		"": "at_large", "large": "at-large", "p. 6": "at-p-6", "p 6": "at-p_6", "p.6": "at-p.6", "P. 6!": "at-P-6!",
		"inside back cover": "at-inside_back_cover", "pp. 4–5": "at-pp-4–5", "pp. 4-5": "at-pp-4~2d~5", "p. 2,  foot": "at-p-2,__foot",
		"“slate”, 100 %": "at-“slate”,_100_~25~", "東京": "at-東京", "a_b~c\td": "at-a~5f~b~7e~c~9~d", "<i>": "at-~3c~i~3e~",
	} {
		if got := (schema.Citation{Source: "list", Place: place}).Anchor(); got != want {
			t.Errorf("the anchor of %q is %q, want %q", place, got, want)
		}
	}
}

// TestPlaceAnchorsAreApart reads the place back from its anchor, so no two
// places have the same, and finds in it only what an HTML identifier (HTML
// Standard, 3.2.6: no whitespace) and a fragment (URL Standard, 4.3: URL code
// points; from memory) may hold.
func TestPlaceAnchorsAreApart(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		place := rapid.OneOf(rapid.String(), rapid.StringOf(rapid.SampledFrom([]rune("p. 6-_~%large,\t\u00a0é")))).Draw(t, "place")
		anchor := schema.Citation{Source: "list", Place: place}.Anchor()
		if got := placeOf(t, anchor); got != place {
			t.Fatalf("the anchor %q of %q reads back as %q", anchor, place, got)
		}
		for _, r := range anchor {
			plain := r < 0x80 && (unicode.IsLetter(r) || unicode.IsDigit(r) || strings.ContainsRune("!$&'()*+,-./:;=?@_~", r))
			if !plain && (r < 0xa0 || unicode.IsSpace(r) || !unicode.IsPrint(r)) {
				t.Fatalf("the anchor %q of %q holds %U", anchor, place, r)
			}
		}
	})
}

// placeOf reads an anchor back.
func placeOf(t *rapid.T, anchor string) string {
	if anchor == "at_large" {
		return ""
	}
	coded, found := strings.CutPrefix(anchor, "at-")
	if !found {
		t.Fatalf("the anchor %q begins otherwise", anchor)
	}
	var place strings.Builder
	for i, part := range strings.Split(coded, "~") {
		if i%2 == 0 {
			place.WriteString(strings.NewReplacer("-", ". ", "_", " ").Replace(part))
			continue
		}
		r, err := strconv.ParseUint(part, 16, 32)
		if err != nil {
			t.Fatalf("the anchor %q: %v", anchor, err)
		}
		place.WriteRune(rune(r))
	}
	return place.String()
}

func TestCitationsMeet(t *testing.T) {
	for _, row := range []struct {
		a, b          string
		within, meets bool
	}{
		{"list, p. 2", "list, p. 2", true, true}, {"list, p2", "list, page 2", true, true}, {"list, pp. 2-3", "list, p. 3", true, true},
		{"list, p. 6, footnote", "list, p. 6", true, true}, {"list, p. 6", "list, p. 6, footnote", false, true},
		{"list, p. 2", "list", true, true}, {"list", "list, p. 2", false, true}, {"list", "list", true, true},
		{"list, p. 2", "list, p. 3", false, false}, {"list, p. 2", "book, p. 2", false, false}, {"list", "book", false, false},
	} {
		a, _ := schema.ParseCitation(row.a, schema.Pos{})
		b, _ := schema.ParseCitation(row.b, schema.Pos{})
		if a.Within(b) != row.within || a.Meets(b) != row.meets || b.Meets(a) != row.meets {
			t.Errorf("%s in %s: %v, meets %v", row.a, row.b, a.Within(b), a.Meets(b))
		}
	}
}
