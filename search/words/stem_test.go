package words

import (
	"slices"
	"strings"
	"testing"

	"github.com/blevesearch/bleve/v2/analysis"
	"github.com/blevesearch/bleve/v2/analysis/lang/en"
)

// TestStem holds Stem to the examples that stand beside the rules in M. F.
// Porter, An algorithm for suffix stripping, Program 14 (1980), carried through all steps.
func TestStem(t *testing.T) {
	for _, c := range []struct{ word, want string }{
		{"caresses", "caress"}, {"ponies", "poni"}, {"caress", "caress"}, {"cats", "cat"}, {"feed", "feed"}, {"agreed", "agre"},
		{"plastered", "plaster"}, {"bled", "bled"}, {"motoring", "motor"}, {"sing", "sing"}, {"conflated", "conflat"},
		{"troubled", "troubl"}, {"sized", "size"}, {"hopping", "hop"}, {"tanned", "tan"}, {"falling", "fall"}, {"hissing", "hiss"},
		{"fizzed", "fizz"}, {"failing", "fail"}, {"filing", "file"}, {"happy", "happi"}, {"sky", "sky"}, {"relational", "relat"},
		{"conditional", "condit"}, {"valenci", "valenc"}, {"digitizer", "digit"}, {"radicalli", "radic"}, {"vietnamization", "vietnam"},
		{"operator", "oper"}, {"feudalism", "feudal"}, {"decisiveness", "decis"}, {"hopefulness", "hope"}, {"callousness", "callous"},
		{"sensitiviti", "sensit"}, {"sensibiliti", "sensibl"}, {"triplicate", "triplic"}, {"formative", "form"}, {"electriciti", "electr"},
		{"goodness", "good"}, {"revival", "reviv"}, {"allowance", "allow"}, {"inference", "infer"}, {"airliner", "airlin"},
		{"gyroscopic", "gyroscop"}, {"adjustable", "adjust"}, {"defensible", "defens"}, {"irritant", "irrit"}, {"replacement", "replac"},
		{"adjustment", "adjust"}, {"dependent", "depend"}, {"adoption", "adopt"}, {"homologou", "homolog"}, {"communism", "commun"},
		{"activate", "activ"}, {"homologous", "homolog"}, {"effective", "effect"}, {"bowdlerize", "bowdler"}, {"probate", "probat"},
		{"rate", "rate"}, {"cease", "ceas"}, {"controll", "control"}, {"roll", "roll"}, {"h24", "h24"}, {"is", "is"},
		{"strung", "string"}, {"made", "make"}, {"feet", "foot"}, // irregular, not Porter's
	} {
		if got := Stem(c.word); got != c.want {
			t.Errorf("%s: got %s, want %s", c.word, got, c.want)
		}
	}
}

// asOtherWords are words of Bleve's list that without their apostrophe read as words of their own.
var asOtherWords = []string{"i'll", "i'd", "he'd", "she'd", "we'd", "he'll", "she'll", "we'll"}

// TestStopWordsAreBleves holds the words of grammar to Bleve's English list, with and without a final 's.
func TestStopWordsAreBleves(t *testing.T) {
	list := analysis.NewTokenMap()
	if err := list.LoadBytes(en.EnglishStopWords); err != nil {
		t.Fatal(err)
	}
	want := map[string]bool{}
	for w := range list {
		if slices.Contains(asOtherWords, w) {
			continue
		}
		want[strings.ReplaceAll(w, "'", "")] = true
		if base := strings.TrimSuffix(w, "'s"); base != "let" {
			want[strings.ReplaceAll(base, "'", "")] = true
		}
	}
	for w := range want {
		if !IsStop(w) {
			t.Errorf("%s of Bleve's list is searched for", w)
		}
	}
	for w := range stops {
		if !want[w] {
			t.Errorf("%s is no word of Bleve's list", w)
		}
	}
}
