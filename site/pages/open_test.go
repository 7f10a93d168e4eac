package pages

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"testing"

	"yearmark/schema/edtf"
)

// TestAskingsKeepWhatWouldTellMost holds the questions that are kept, of few
// and of many, against all of them sorted.
func TestAskingsKeepWhatWouldTellMost(t *testing.T) {
	rng := rand.New(rand.NewPCG(9, 4))
	for _, count := range []int{0, 1, questionsShown, questionsShown + 1, 4 * questionsShown, 5000} {
		var kept askings
		var all []asking
		for n := range count {
			a := asking{bits: float64(rng.IntN(7)) / 8, gap: edtf.Range{First: 1950 + n, Last: 1950 + n}}
			where := fmt.Sprintf("models/m%d.html", rng.IntN(40))
			kept.add(a, func() string { return where })
			a.href = where
			all = append(all, a)
		}
		kept.cut()
		slices.SortFunc(all, compareAskings)
		if kept.count != count || !slices.Equal(kept.most, all[:min(count, questionsShown)]) {
			t.Errorf("of %d questions, counted as %d, %d are kept and not those first in order", count, kept.count, len(kept.most))
		}
	}
}
