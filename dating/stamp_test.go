package dating_test

import (
	"slices"
	"testing"

	"yearmark/dating"
)

// TestAStampFeedsTheDrawWeight reads stamps by the maker's signs; an observed
// draw weight goes before one, and what cannot be read says nothing.
func TestAStampFeedsTheDrawWeight(t *testing.T) {
	const records = `-- makers/works.md --
---
record: maker
name: The Works
weight-marks: {before: {"•": -1 lb}, after: {"•": +1 lb}, cites: [ledger]}
---
-- features/draw-weight.md --
---
record: feature
name: Draw weight
kind: number
unit: lb
plausible: 30..60
---
-- models/m.md --
---
record: model
name: M
maker: works
made: {span: 1960/1961, cites: [ledger]}
---
`
	example := func(lines string) string {
		return records + "-- examples/0001.md --\n---\nrecord: example\n" + lines + "---\n"
	}
	for lines, want := range map[string]string{
		"model: m\nweight-mark: \"•42 @ 28\"\n":                                          "41",
		"model: m\nweight-mark: '64\" 42¼• @ 28'\n":                                      "43.25",
		"model: m\nweight-mark: \"45#\"\n":                                               "45",
		"weight-mark: \"45#\"\n":                                                         "45", // of no known maker: by its figure
		"weight-mark: \"•45\"\n":                                                         "",
		"model: m\nweight-mark: \"X45\"\n":                                               "", // no sign of this maker
		"model: m\nweight-mark: \"99\"\n":                                                "", // not plausible
		"model: m\nweight-mark: \"45\"\nobserved: [{feature: draw-weight, value: 38}]\n": "38",
		"model: m\nweight-mark: \"45\"\nobserved: [{feature: draw-weight, value: 38, original: false}]\n": "45", // an owner had it shaved
	} {
		ref := reference(t, recordsOf(t, example(lines)))
		ex, _ := ref.Examples.Get("0001")
		var got []string
		for _, o := range dating.QuestionOf(ref, ex).Observed {
			got = append(got, o.Values...)
		}
		if wanted := slices.DeleteFunc([]string{want}, func(s string) bool { return s == "" }); !slices.Equal(got, wanted) {
			t.Errorf("%q: asks %q, want %q", lines, got, wanted)
		}
	}
}
