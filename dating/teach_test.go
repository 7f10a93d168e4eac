package dating_test

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

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
	if diff := cmp.Diff(want.Years, got.Years); diff != "" {
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
