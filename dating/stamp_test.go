package dating_test

import (
	"errors"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"

	"yearmark/dating"
	"yearmark/schema"
)

// TestAStampCanBeAskedAbout asks with the draw weight as it is stamped: it is
// read by the maker of the model asked about or, where none is, by each maker;
// what nobody is recorded to have used is refused.
func TestAStampCanBeAskedAbout(t *testing.T) {
	const makers = `-- makers/works.md --
---
record: maker
name: The Works
weight-marks: {before: {"X": -1 lb, "•": -1 lb}, cites: [ledger]}
---
-- makers/yard.md --
---
record: maker
name: The Yard
weight-marks: {before: {"X": -2 lb}, cites: [ledger]}
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
-- models/n.md --
---
record: model
name: N
maker: yard
made: {span: 1960/1961, cites: [ledger]}
---
`
	e := engineOf(t, reference(t, recordsOf(t, makers)))
	ask := func(models []string, values ...string) (*dating.Answer, error) {
		return e.Date(dating.Question{Models: models, Observed: []dating.Observation{{Feature: schema.DrawWeight, Values: values}}})
	}
	for _, c := range []struct {
		models []string
		mark   string
		want   []string
	}{
		{[]string{"m"}, "X37", []string{"36"}}, {[]string{"n"}, "64\" X37# @ 28", []string{"35"}}, {nil, "X37", []string{"35", "36"}}, {nil, "•37", []string{"36"}}, {[]string{"m"}, "37#", []string{"37"}},
	} {
		got, err := ask(c.models, c.mark)
		if err != nil {
			t.Errorf("%q: %v", c.mark, err)
			continue
		}
		want, _ := ask(c.models, c.want...)
		if diff := cmp.Diff(want.Years, got.Years); diff != "" {
			t.Errorf("%q is not read as %q:\n%s", c.mark, c.want, diff)
		}
	}
	for _, c := range []struct {
		models []string
		mark   string
	}{{nil, "Y37"}, {[]string{"n"}, "•37"}, {[]string{"m"}, "X37X"}, {nil, "heavy"}} {
		var refused *dating.Refusal
		if _, err := ask(c.models, c.mark); !errors.As(err, &refused) || refused.Value != c.mark {
			t.Errorf("%q of %q is not refused: %v", c.mark, c.models, err)
		}
	}
}

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
