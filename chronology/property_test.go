package chronology

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"yearmark/schema"
	"yearmark/schema/edtf"
)

// compareYears compares the years of every claim with all the ways found by trying.
func compareYears(t *testing.T, name string, s sketch, m *schema.Model, timeline *Timeline, ways []years2) {
	t.Helper()
	for i, c := range m.Claims() {
		start, end := spread(ways, i)
		want := timeline.Stated(c).Narrow(start, end)
		if want.Choice == edtf.OneOf && want.Members != nil {
			want = want.Among(slices.DeleteFunc(slices.Clone(want.Members), func(year int) bool {
				return !slices.ContainsFunc(ways, func(w years2) bool { return w[i][0] == year })
			}))
		}
		if want.Empty() {
			want = timeline.Stated(c)
		}
		if diff := cmp.Diff(want, timeline.Years(c), cmpopts.EquateEmpty()); diff != "" {
			t.Fatalf("%s: %s (-want +got):\n%s\n%s", name, c.Key(), diff, s.record(nothing).data)
		}
	}
}

// TestRelations compares what each of the thirteen relations to a claim of
// 1962 to 1964 leaves of another with trying all years.
func TestRelations(t *testing.T) {
	for _, how := range schema.Relations {
		s := sketch{
			claims: []sketchClaim{
				{span: "1960/1966", lo: [2]int{1960, 1960}, hi: [2]int{1966, 1966}},
				{span: "1962/1964", lo: [2]int{1962, 1962}, hi: [2]int{1964, 1964}},
				{},
			},
			orders: []sketchOrder{{how: how, i: 1, j: 2}},
		}
		m, timeline := s.build(t, nothing)
		if len(timeline.Conflicts()) > 0 {
			t.Errorf("%s: %s", how, timeline.Conflicts()[0])
		}
		compareYears(t, string(how), s, m, timeline, s.possible())
	}
}

// TestAgainstEveryYear compares records with what trying every year of every
// claim gives: whether they can all hold, and the tightest years.
func TestAgainstEveryYear(t *testing.T) {
	held, broken := 0, 0
	for seed := range uint64(400) {
		s := randomSketch(rand.New(rand.NewPCG(seed, 3)))
		m, timeline := s.build(t, nothing)
		ways := s.possible()
		conflicts := timeline.Conflicts()
		if (len(ways) > 0) != (len(conflicts) == 0) {
			t.Fatalf("seed %d: %d ways, but %d contradictions: %v\n%s", seed, len(ways), len(conflicts), conflicts, s.record(nothing).data)
		}
		if len(ways) == 0 {
			broken++
			continue
		}
		held++
		compareYears(t, fmt.Sprintf("seed %d", seed), s, m, timeline, ways)
	}
	if held < 100 || broken < 100 {
		t.Errorf("%d records hold and %d do not: the test says little", held, broken)
	}
}

// spread gives the years in which a claim starts and ends in any of the ways.
func spread(ways []years2, i int) (start, end edtf.Range) {
	start, end = edtf.Range{First: 9999}, edtf.Range{First: 9999}
	for _, w := range ways {
		start = edtf.Range{First: min(start.First, w[i][0]), Last: max(start.Last, w[i][0])}
		end = edtf.Range{First: min(end.First, w[i][1]), Last: max(end.Last, w[i][1])}
	}
	return start, end
}

// keyOf names the statement that a step of an explanation tells.
func (s sketch) keyOf(t *testing.T, m *schema.Model, step Step) string {
	t.Helper()
	if step.Order != nil {
		return fmt.Sprintf("order %d", slices.Index(m.Order, step.Order))
	}
	i := slices.Index(m.Claims(), step.Claim)
	if i >= 0 && step.Pos == step.Claim.Span.Pos {
		return fmt.Sprintf("span %d", i)
	}
	for k, a := range step.Claim.Attested {
		if a.Pos == step.Pos {
			return fmt.Sprintf("attested %d %d", i, k)
		}
	}
	t.Fatalf("a step stands at %s, where nothing is stated: %s", step.Pos, step.Sentence)
	return ""
}

// TestConflictsAreMinimal writes, for every contradiction found, a record of
// its statements alone: it contradicts itself. Then each of them is left out in
// turn: nothing is contradicted any more.
func TestConflictsAreMinimal(t *testing.T) {
	told := 0
	for seed := range uint64(150) {
		s := randomSketch(rand.New(rand.NewPCG(seed, 4)))
		m, timeline := s.build(t, nothing)
		for _, c := range timeline.Conflicts() {
			told++
			var keys []string
			for _, step := range c.Steps {
				if step.Claim == nil && step.Order == nil {
					continue // the horizon, which always stands
				}
				keys = append(keys, s.keyOf(t, m, step))
			}
			others := func(key string) bool { return !slices.Contains(keys, key) }
			if _, alone := s.build(t, others); len(alone.Conflicts()) == 0 {
				t.Fatalf("seed %d: %v can hold together: %s\n%s", seed, keys, c, s.record(nothing).data)
			}
			for _, left := range keys {
				if _, rest := s.build(t, func(key string) bool { return others(key) || key == left }); len(rest.Conflicts()) > 0 {
					t.Fatalf("seed %d: without %s still: %s\n%s", seed, left, rest.Conflicts()[0], s.record(nothing).data)
				}
			}
		}
	}
	if told < 50 {
		t.Errorf("only %d contradictions: the test says little", told)
	}
}

// TestAddingNeverLoosens leaves out statements of records that hold: every
// year is as wide or wider than with them.
func TestAddingNeverLoosens(t *testing.T) {
	for seed := range uint64(150) {
		r := rand.New(rand.NewPCG(seed, 5))
		s := randomSketch(r)
		m, all := s.build(t, nothing)
		if len(all.Conflicts()) > 0 {
			continue
		}
		left := fmt.Sprintf("order %d", r.IntN(len(s.orders)))
		fewerModel, fewer := s.build(t, func(key string) bool { return key == left })
		for i, c := range m.Claims() {
			with, without := all.Years(c), fewer.Years(fewerModel.Claims()[i])
			if with.A < without.A || with.B > without.B || with.C < without.C || with.D > without.D {
				t.Fatalf("seed %d: %s: %s with %s, %s without", seed, c.Key(), four(with), left, four(without))
			}
		}
	}
}

// TestOrderIsNothing writes the orders of records backwards: the years are the
// same, and so is what contradicts what.
func TestOrderIsNothing(t *testing.T) {
	for seed := range uint64(150) {
		s := randomSketch(rand.New(rand.NewPCG(seed, 6)))
		m, forwards := s.build(t, nothing)
		slices.Reverse(s.orders)
		back, backwards := s.build(t, nothing)
		if a, b := len(forwards.Conflicts()), len(backwards.Conflicts()); (a == 0) != (b == 0) {
			t.Fatalf("seed %d: %d contradictions forwards, %d backwards", seed, a, b)
		} else if a > 0 {
			continue
		}
		for i, c := range m.Claims() {
			if diff := cmp.Diff(forwards.Years(c), backwards.Years(back.Claims()[i]), cmpopts.EquateEmpty()); diff != "" {
				t.Fatalf("seed %d: %s (-forwards +backwards):\n%s", seed, c.Key(), diff)
			}
		}
	}
}

// TestSameRecordsSameStory builds one reference several times: years, reasons
// and contradictions are the same to the letter.
func TestSameRecordsSameStory(t *testing.T) {
	for seed := range uint64(30) {
		s := randomSketch(rand.New(rand.NewPCG(seed, 8)))
		ref := records(t, horizonOfSketches, idleMaker, s.record(nothing))
		first := report(ref, Build(ref), nil)
		for range 3 {
			if diff := cmp.Diff(first, report(ref, Build(ref), nil)); diff != "" {
				t.Fatalf("seed %d:\n%s", seed, diff)
			}
		}
	}
}
