package words

import (
	"encoding/json"
	"os"
	"strings"
	"testing"
)

// vector is a text and its terms, those that are extras with a plus before them.
type vector struct{ Text, Terms string }

// vectors reads what the page's module is held to as well.
func vectors(t *testing.T) []vector {
	t.Helper()
	data, err := os.ReadFile("../testdata/split.json")
	if err != nil {
		t.Fatal(err)
	}
	var list []vector
	if err := json.Unmarshal(data, &list); err != nil {
		t.Fatal(err)
	}
	return list
}

func TestSplit(t *testing.T) {
	for _, c := range vectors(t) {
		var list []string
		for _, token := range Split(c.Text) {
			if token.Kind.Extra() {
				token.Term = "+" + token.Term
			}
			list = append(list, token.Term)
		}
		if got := strings.Join(list, " "); got != c.Terms {
			t.Errorf("%q:\n got %s\nwant %s", c.Text, got, c.Terms)
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

func TestLexiconCountsWhatWasMet(t *testing.T) {
	s := Splitter{Lexicon: &Lexicon{}}
	s.Split(nil, "Stabilisers, stabiliser and the stabilisers of the H-24")
	met := map[string]int{}
	s.Lexicon.Each(func(word, term string, n int) { met[word+" "+term] = n })
	want := map[string]int{"stabilisers stabilis": 2, "stabiliser stabilis": 1, "h24 h24": 1}
	if len(met) != len(want) {
		t.Errorf("got %v, want %v", met, want)
	}
	for k, n := range want {
		if met[k] != n {
			t.Errorf("%s: got %d, want %d", k, met[k], n)
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
