package dating_test

import (
	"math"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"yearmark/chronology"
	"yearmark/dating"
	"yearmark/provenance"
)

const teachingRecords = `-- reference.yaml --
name: Vectors
years: 1900/1999
judgement: {credence: {factory-paper: 1.0, catalogue: 0.9}, teach: {weight: 2, years: 1, steps: 1}}
-- features/wood.md --
---
record: feature
name: Wood
kind: choice
values: [{id: x}, {id: y}]
---
-- features/weight.md --
---
record: feature
name: Weight
kind: number
unit: lb
plausible: 30..40
---
-- models/m.md --
---
record: model
name: M
maker: works
made: {span: 1960/1969, cites: [ledger]}
---
`

const taughtFirst = `-- examples/0001.md --
---
record: example
model: m
observed: [{feature: wood, value: x}, {feature: weight, value: 35, sure: fairly}]
documented: {span: 1961/1962, cites: ["list, p. 1"]}
---
-- examples/0002.md --
---
record: example
model: m
observed: [{feature: wood, value: x}]
documented: {span: 1962, cites: ["list, p. 1"]}
---
`

const taughtRest = `-- examples/0003.md --
---
record: example
model: m
observed: [{feature: wood, value: [x, y]}, {feature: weight, value: 34..36}]
documented: {span: 1966, cites: ["list, p. 2"]}
---
`

// recordsOf reads records written as one text, laid over the base.
func recordsOf(t *testing.T, text string) map[string][]byte {
	t.Helper()
	files := map[string][]byte{}
	name := ""
	for line := range strings.Lines(text) {
		if inner, ok := strings.CutPrefix(strings.TrimSpace(line), "-- "); ok {
			name = strings.TrimSuffix(inner, " --")
			continue
		}
		files[name] = append(files[name], line...)
	}
	return files
}

// TestADatedBowDoesNotTeachItself dates a bow as a reference does that holds
// neither it nor what its own document documents.
func TestADatedBowDoesNotTeachItself(t *testing.T) {
	all := reference(t, recordsOf(t, teachingRecords+taughtFirst+taughtRest))
	without := engineOf(t, reference(t, recordsOf(t, teachingRecords+taughtRest)))
	whole := engineOf(t, all)
	apart := dating.NewLeaveOneOut(whole, chronology.Build(all), provenance.Weigh(all))
	ex, _ := all.Examples.Get("0001")
	got, err := apart.Account(ex)
	if err != nil {
		t.Fatal(err)
	}
	want, err := without.Date(dating.QuestionOf(all, ex))
	if err != nil {
		t.Fatal(err)
	}
	// Counts are multiples of 2^-40 where a bow is left out.
	if diff := cmp.Diff(want.Years, got.Years, cmpopts.EquateApprox(0, 1e-12)); diff != "" {
		t.Errorf("(-without it +dated apart):\n%s", diff)
	}
	taught, err := whole.Date(dating.QuestionOf(all, ex))
	if err != nil || cmp.Equal(taught.Years, want.Years) {
		t.Errorf("the bow teaches nothing when it is asked about as another: %v, %v", taught.Years, err)
	}
}

// TestTeachingOff gives the same odds as a reference without documents.
func TestTeachingOff(t *testing.T) {
	off := strings.Replace(teachingRecords, "teach: {weight: 2, years: 1, steps: 1}", "teach: off", 1)
	if off == teachingRecords {
		t.Fatal("nothing was turned off")
	}
	question := dating.Question{Observed: []dating.Observation{{Feature: "wood", Values: []string{"x"}}}}
	with, err := engineOf(t, reference(t, recordsOf(t, off+taughtFirst+taughtRest))).Date(question)
	if err != nil {
		t.Fatal(err)
	}
	without, err := engineOf(t, reference(t, recordsOf(t, off))).Date(question)
	if diff := cmp.Diff(without.Years, with.Years); err != nil || diff != "" {
		t.Errorf("%v\n%s", err, diff)
	}
}

// TestTeachingByHand: nobody claims anything of M, so every wood has 1/3 and
// every pound 1/11 before bows teach. Bow 1 (1961 or 1962, half a bow each)
// and bow 2 (1962) are spread over a year to either side by (2 - |d|)/4: in
// 1960 to 1963 there are .125, .375 + .25, .375 + .5 and .125 + .25 bows of
// wood x, 2 bows being what the documents are worth. Of bow 1 the weight, seen
// fairly, counts .85, half of it at 35 lb and a quarter at 34 and 36.
func TestTeachingByHand(t *testing.T) {
	e := engineOf(t, reference(t, recordsOf(t, teachingRecords+taughtFirst)))
	bows := map[int]float64{1960: .125, 1961: .625, 1962: .875, 1963: .375}
	weights := map[int]float64{1960: .125, 1961: .375, 1962: .375, 1963: .125}
	for _, c := range []struct {
		feature, value string
		chance         func(year int) float64
	}{
		{"wood", "x", func(y int) float64 { return .98*(2./3+bows[y])/(2+bows[y]) + .02/3 }},
		{"wood", "y", func(y int) float64 { return .98*(2./3)/(2+bows[y]) + .02/3 }},
		{"weight", "35", func(y int) float64 { return .98*(2./11+.85*weights[y]/2)/(2+.85*weights[y]) + .02/11 }},
		{"weight", "36", func(y int) float64 { return .98*(2./11+.85*weights[y]/4)/(2+.85*weights[y]) + .02/11 }},
		{"weight", "38", func(y int) float64 { return .98*(2./11)/(2+.85*weights[y]) + .02/11 }},
	} {
		a, err := e.Date(dating.Question{Models: []string{"m"}, Observed: []dating.Observation{{Feature: c.feature, Values: []string{c.value}}}})
		if err != nil || len(a.Odds) != 10 {
			t.Fatalf("%s %s: %d pairs, %v", c.feature, c.value, len(a.Odds), err)
		}
		sum := 0.0
		for y := 1960; y <= 1969; y++ {
			sum += c.chance(y)
		}
		for _, o := range a.Odds {
			if want := c.chance(o.Year) / sum; math.Abs(o.Chance-want) > 1e-12 {
				t.Errorf("%s %s in %d: %.12f, want %.12f", c.feature, c.value, o.Year, o.Chance, want)
			}
		}
	}
}
