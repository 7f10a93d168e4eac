package words

import (
	"strings"
	"testing"
)

// told writes tokens as "term", extras with a plus before them.
func told(text string) string {
	var list []string
	for _, t := range Split(text) {
		if t.Kind.Extra() {
			t.Term = "+" + t.Term
		}
		list = append(list, t.Term)
	}
	return strings.Join(list, " ")
}

func TestSplit(t *testing.T) {
	for _, c := range []struct{ text, want string }{
		{"The Café's stabilisers", "cafe stabilis"},
		{"H-24, H24, h 24, H.24 and H/24", "h24 +24 h24 +24 h24 +24 h24 +24 h24 +24"},
		{"H-24-B; KM-31/2; X35 @ 28", "h24b +24 km31 +31 2 x35 +35 28"},
		{"a 24, A-24, 24b, No.24", "24 a24 +24 24b +24 no24 +24"},
		{"Mark V 1965, vol-1965, c.1965", "mark v 1965 vol 1965 c1965 +1965"},
		{"h 7 1/4 in", "h 7.25 +7.25in"},
		{`7 1/4 in, 7¼", 7.25 inches, 7-1/4, 7 ¼″, 7.250''`, "7.25 +7.25in 7.25 +7.25in 7.25 +7.25in 7.25 7.25 +7.25in 7.25 +7.25in"},
		{"30..55 lb, 30 to 55 lbs, 30 – 55#", "30 +30lb 55 +55lb 30 +30lb 55 +55lb 30 +30lb 55 +55lb"},
		{"7 1/4..7 3/4 in", "7.25 +7.25in 7.75 +7.75in"},
		{"30, 40 lb", "30 40 +40lb"},
		{"66in, 1,676 mm, 1960s", "66 +66in 1676 +1676mm 1960s +1960"},
		{"made 1965 in Fellside", "made 1965 fellsid"},
		{"3/11 and 6/7/1964", "3 11 6 7 1964"},
		{"1/3, 0.50, 007, 0123", "0.333333 0.5 007 0123"},
		{"take-down semi-recurve-bow", "+takedown take +semirecurvebow semi recurv bow"},
		{"O'Neill, don't, bows'", "oneil bow"},
		{"Œuvre Straße ﬁne Ǆ １２", "oeuvr strass fine dz 12"},
		{"σοφός ΣΟΦΟΣ", "σοφοσ σοφοσ"},
		{"", ""},
		{"…— !?\x00\xff", ""},
		{strings.Repeat("x", 49), ""},
	} {
		if got := told(c.text); got != c.want {
			t.Errorf("%q:\n got %s\nwant %s", c.text, got, c.want)
		}
	}
}

func TestSplitKeepsPlaces(t *testing.T) {
	text := "A Café of the H-24,\nold 7¼ in"
	want := []struct {
		term, said string
		pos        int
	}{{"cafe", "Café", 2}, {"h24", "H-24", 5}, {"24", "H-24", 5}, {"old", "old", 7}, {"7.25", "7¼ in", 8}, {"7.25in", "7¼ in", 8}}
	got := Split(text)
	if len(got) != len(want) {
		t.Fatalf("got %d tokens, want %d: %v", len(got), len(want), got)
	}
	for i, w := range want {
		if g := got[i]; g.Term != w.term || text[g.Start:g.End] != w.said || g.Pos != w.pos {
			t.Errorf("token %d: got %q from %q at %d, want %q from %q at %d", i, g.Term, text[g.Start:g.End], g.Pos, w.term, w.said, w.pos)
		}
	}
}

func FuzzSplit(f *testing.F) {
	for _, s := range []string{"H-24 7 1/4 in", "30..55 lb", "take-down", "\xff¼″", "1,234,567.80"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		last := 0
		for _, token := range Split(text) {
			if token.Term == "" || token.Start >= token.End || token.End > len(text) || token.Pos < 1 {
				t.Fatalf("%q gives the token %+v", text, token)
			}
			if token.Pos < last {
				t.Fatalf("%q gives the place %d after %d", text, token.Pos, last)
			}
			last = token.Pos
		}
	})
}
