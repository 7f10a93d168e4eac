package search

import (
	"os"
	"slices"
	"strings"
	"testing"
)

// The measures that the judged questions must reach.
const (
	wantReciprocalRank = 0.9
	wantInFirstThree   = 0.9
)

// TestJudgedQuestions asks what collectors ask of the demonstration and reports the mean
// reciprocal rank of the first right answer, and how often one is among the first three.
func TestJudgedQuestions(t *testing.T) {
	data, err := os.ReadFile("testdata/judged.tsv")
	if err != nil {
		t.Fatal(err)
	}
	ix := build(t, demonstration(t))
	asked, ranks, three := 0, 0.0, 0
	for line := range strings.Lines(string(data)) {
		question, answers, ok := strings.Cut(strings.TrimSpace(line), "\t")
		if !ok {
			continue
		}
		asked++
		right := strings.Fields(answers)
		for _, address := range right {
			if _, ok := ix.byAddress[address]; !ok {
				t.Errorf("%q: there is no %s", question, address)
			}
		}
		r, err := ix.Find(Query{Words: question})
		if err != nil {
			t.Fatal(err)
		}
		place := slices.IndexFunc(r.Hits, func(h Hit) bool { return slices.Contains(right, h.Address) })
		if place >= 0 {
			ranks += 1 / float64(place+1)
		}
		if place >= 0 && place < 3 {
			three++
		}
		if place != 0 {
			var first []string
			for _, h := range r.Hits[:min(3, len(r.Hits))] {
				first = append(first, h.Address)
			}
			t.Logf("%q: right at %d, first %v", question, place+1, first)
		}
	}
	if asked < 60 {
		t.Errorf("only %d questions are judged", asked)
	}
	rank, share := ranks/float64(asked), float64(three)/float64(asked)
	t.Logf("%d questions: mean reciprocal rank %.3f, right among the first three %.3f", asked, rank, share)
	if rank < wantReciprocalRank || share < wantInFirstThree {
		t.Errorf("the mean reciprocal rank is %.3f and %.3f are right among the first three: want %.2f and %.2f", rank, share, wantReciprocalRank, wantInFirstThree)
	}
}
