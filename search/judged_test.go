package search

import (
	"os"
	"slices"
	"strings"
	"testing"
)

// The measures that the judged questions must reach.
const (
	wantReciprocalRank = 0.93
	wantInFirstThree   = 0.9
)

// TestJudgedQuestions asks what collectors ask of the demonstration and reports the mean
// reciprocal rank of the first right answer, and how often one is among the first three.
func TestJudgedQuestions(t *testing.T) {
	asked, rank, three := askFile(t, "testdata/judged.tsv")
	if asked < 60 {
		t.Errorf("only %d questions are judged", asked)
	}
	if rank < wantReciprocalRank || three < wantInFirstThree {
		t.Errorf("the mean reciprocal rank is %.3f and %.3f are right among the first three: want %.2f and %.2f", rank, three, wantReciprocalRank, wantInFirstThree)
	}
}

// askFile asks the questions of a file and gives how many there are, the mean
// reciprocal rank of the first right answer, and the share that has one among the first
// three. A line is a question, a tab, and every address that is right.
func askFile(t *testing.T, file string) (asked int, rank, three float64) {
	t.Helper()
	data, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	ix := build(t, demonstration(t))
	for line := range strings.Lines(string(data)) {
		cells := strings.Split(strings.TrimSpace(line), "\t")
		if len(cells) < 2 || strings.HasPrefix(line, "#") {
			continue
		}
		asked++
		question, right := cells[0], strings.Fields(cells[1])
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
			rank += 1 / float64(place+1)
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
	rank, three = rank/float64(asked), three/float64(asked)
	t.Logf("%d questions: mean reciprocal rank %.3f, right among the first three %.3f", asked, rank, three)
	return asked, rank, three
}
