package dating_test

import (
	"errors"
	"slices"
	"strings"
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

// stampYears: a maker whose star changed its meaning, and whose bows ran over their
// stamps. Bows of 1960 were offered up to 40 pounds.
var stampYears = map[string][]byte{
	"reference.yaml":          []byte("name: Stamps\nyears: 1950/1969\n"),
	"makers/works.md":         []byte("---\nrecord: maker\nname: The Works\nweight-marks:\n  - {span: ../1962, after: {\"*\": +2 lb}, runs: 0..2 lb, cites: [ledger]}\n  - {span: 1963/.., after: {\"*\": +1 lb, \"!\": +3 lb}, cites: [ledger]}\n---\n"),
	"features/draw-weight.md": []byte("---\nrecord: feature\nname: Draw weight\nkind: number\nunit: lb\nplausible: 10..120\nstep: 1\n---\n"),
	"models/knot.md":          []byte("---\nrecord: model\nname: Knot\nmaker: works\nmade: {span: 1960/1965, cites: [ledger]}\nspecs: [{spec: draw-weight, range: 30..40 lb, span: 1960/1965, cites: [ledger]}]\n---\n"),
	"examples/stamped.md":     []byte("---\nrecord: example\nmodel: knot\nweight-mark: \"33* @ 28\"\n---\n"),
	"examples/later.md":       []byte("---\nrecord: example\nmodel: knot\nweight-mark: \"33! @ 28\"\n---\n"),
	"examples/heavy.md":       []byte("---\nrecord: example\nmodel: knot\nobserved: [{feature: draw-weight, value: 42 lb}]\n---\n"),
	"examples/too-heavy.md":   []byte("---\nrecord: example\nmodel: knot\nobserved: [{feature: draw-weight, value: 43 lb}]\n---\n"),
	"examples/nobodys-bow.md": []byte("---\nrecord: example\nobserved: [{feature: draw-weight, value: 42 lb}]\n---\n"),
}

// TestAStampReadsByItsYears: a stamp whose sign changed its meaning is either of
// what it meant, and the words say when; a sign of some years alone is read by them.
func TestAStampReadsByItsYears(t *testing.T) {
	ref := reference(t, stampYears)
	for id, want := range map[string][]string{"stamped": {"35", "34"}, "later": {"36"}} {
		ex, _ := ref.Examples.Get(id)
		q := dating.QuestionOf(ref, ex)
		if len(q.Observed) != 1 || !slices.Equal(q.Observed[0].Values, want) {
			t.Errorf("%s: %v, not %v", id, q.Observed, want)
		}
	}
	maker, _ := ref.Makers.Get("works")
	read, err := dating.ReadStamp(maker, "33* @ 28")
	if words := dating.StampWords(read); err != nil || words != "35 lb at 28 in, up to 1962; 34 lb at 28 in, 1963 and onwards" {
		t.Errorf("it reads %q (%v)", words, err)
	}
	if read, err = dating.ReadStamp(maker, "33"); err != nil || dating.StampWords(read) != "33 lb" {
		t.Errorf("without a sign it reads %v (%v)", read, err)
	}
	if _, err = dating.ReadStamp(maker, "33?"); err == nil {
		t.Error("a sign of nobody is read")
	}
	ask := func(values ...string) []dating.Odds {
		a, err := engineOf(t, ref).Date(dating.Question{Models: []string{"knot"}, Observed: []dating.Observation{{Feature: "draw-weight", Values: values}}})
		if err != nil {
			t.Fatal(err)
		}
		return a.Odds
	}
	if typed, either := ask("33*"), ask("34", "35"); !slices.Equal(typed, either) {
		t.Errorf("typed, it gives %v, and one of the two %v", typed, either)
	}
	if lines := engineOf(t, ref).Number("33*").Words(ref); !strings.Contains(strings.Join(lines, " "), "reads 35 lb, up to 1962; 34 lb, 1963 and onwards, as The Works stamped its bows.") {
		t.Errorf("looked up, it is %q", lines)
	}
}

// TestAWeightWithinWhatBowsRanOverIsNoContradiction: a measured weight is compared
// with stamps that bows ran over by so much.
func TestAWeightWithinWhatBowsRanOverIsNoContradiction(t *testing.T) {
	ref := reference(t, stampYears)
	e := engineOf(t, ref)
	for id, contradicts := range map[string]bool{"heavy": false, "too-heavy": true} {
		ex, _ := ref.Examples.Get(id)
		a, err := e.Date(dating.QuestionOf(ref, ex))
		if err != nil || a.Contradicts() != contradicts {
			t.Errorf("%s: contradicts %v (%v), observed %v", id, a.Contradicts(), err, a.Observed)
		}
	}
	ex, _ := ref.Examples.Get("nobodys-bow")
	if q := dating.QuestionOf(ref, ex); q.Observed[0].Values[0] != "42 lb" {
		t.Errorf("of no maker it is %v", q.Observed)
	}
}
