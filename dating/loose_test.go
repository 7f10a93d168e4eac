package dating

import (
	"math/rand/v2"
	"regexp"
	"strings"
	"testing"

	"yearmark/schema"
)

// TestNumbersAreReadHoweverPunctuated: the same number written with and without
// separators fits the same values; one that fits as written is not read loosely.
func TestNumbersAreReadHoweverPunctuated(t *testing.T) {
	w := wordingsOf("H-24", "^6[4-7]-[0-9]{3}$", "^65[0-9]+$", `^HS ?\d{4}$`)
	for text, want := range map[string]string{
		"H24": "H-24", "h 24": "H-24", "H-24": "H-24", "H–24": "H-24", "H.24": "H-24", "H 2 4": "H-24",
		"65-172": "^6[4-7]-[0-9]{3}$", "64 172": "^6[4-7]-[0-9]{3}$", "64172": "^6[4-7]-[0-9]{3}$",
		"65172": "^65[0-9]+$", "hs-1234": `^HS ?\d{4}$`, "HS12": "", "H245": "", "-": "",
	} {
		got := ""
		if list, _ := w.Observed(text); list[0] < len(w.Patterns) {
			got = w.Patterns[list[0]].Text
		}
		if got != want {
			t.Errorf("%q is read as %q, want %q", text, got, want)
		}
	}
}

func wordingsOf(values ...string) *Wordings {
	var claims []*schema.Claim
	for _, v := range values {
		claims = append(claims, &schema.Claim{Value: schema.Text{Value: v}})
	}
	return newWordings(claims)
}

// TestLoosenedPatternsMatchWhatTheyDid draws texts that a pattern matches and
// puts separators in and out: the loosened pattern matches all of them squeezed.
// Held against the pattern itself by Go's regexp.
func TestLoosenedPatternsMatchWhatTheyDid(t *testing.T) {
	r := rand.New(rand.NewPCG(1964, 1967))
	const letters = "AK6479- ./b"
	for _, pattern := range []string{"^6[4-7]-[0-9]{3}$", `K\d{1,2}[-/ ]?[A-Z]?`, "(?:A|K-)+[46]?", `[ab]-\w`, `A\b-?\bK`, "[-. ]+7|9"} {
		whole := regexp.MustCompile(`(?i)\A(?:` + pattern + `)\z`)
		loose := loosened(pattern)
		if loose == "" {
			t.Fatalf("%s is not loosened", pattern)
		}
		re, found := regexp.MustCompile(loose), 0
		for range 200_000 {
			text := make([]byte, 1+r.IntN(7))
			for i := range text {
				text[i] = letters[r.IntN(len(letters))]
			}
			if !whole.Match(text) || strings.Trim(string(text), " -./") == "" {
				continue
			}
			found++
			if !re.MatchString(Squeeze(string(text))) {
				t.Errorf("%s matches %q, and %s not %q", pattern, text, loose, Squeeze(string(text)))
			}
		}
		if found == 0 {
			t.Errorf("%s matched nothing", pattern)
		}
	}
	for _, pattern := range []string{"-", "[- ]*", "^$", "(?:-|A?)"} {
		if loose := loosened(pattern); loose != "" {
			t.Errorf("%q is loosened to %q, which matches anything", pattern, loose)
		}
	}
}

// TestASlipInANumberBetweenAnchors: a number claimed as "^H-24$" is plain
// words, and what one slip leads to is named with it.
func TestASlipInANumberBetweenAnchors(t *testing.T) {
	w := wordingsOf("^H-24$", "^H[0-9]$")
	if p := w.Patterns[0]; p.Words != "H-24" || p.Label != "H-24" || p.RE2 != "" || p.Text != "^H-24$" {
		t.Errorf("^H-24$ is %+v", p)
	}
	if p := w.Patterns[1]; p.RE2 == "" {
		t.Errorf("^H[0-9]$ is %+v", p)
	}
	for _, written := range []string{"H-24", "h 24", "H24", "^H-24$"} {
		if got, err := w.Observed(written); err != nil || len(got) != 1 || got[0] != 0 {
			t.Errorf("%q is %v, %v", written, got, err)
		}
	}
}

// TestWordsAreNoNumber: what is asked in words with a year in it is a search,
// and what may be stamped on a bow is a number.
func TestWordsAreNoNumber(t *testing.T) {
	horizon := func(year int) bool { return 1930 <= year && year <= 1990 }
	for text, number := range map[string]bool{
		"oval mark 1962": false, "oval 1962": false, "1962": false, "1962 1965": false, "Plover 42": false, "45 lb": false, "padauk": false, "": false,
		"65 172": true, "K 1962": true, "HS 1234": true, "ser. 6 172": true, "2024": true, "42•": true, "H-24": true,
	} {
		if got := LooksLikeNumber(text, horizon); got != number {
			t.Errorf("%q is a number: %v", text, got)
		}
	}
}
