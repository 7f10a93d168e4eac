package dating_test

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math"
	"strings"
	"testing"

	"yearmark/chronology"
	"yearmark/dating"
	"yearmark/provenance"
	"yearmark/schema"
)

// TestWilson holds the interval against R. G. Newcombe, Statistics in Medicine
// 17 (1998), table I, method 3 (from memory), to four figures.
func TestWilson(t *testing.T) {
	for _, c := range []struct {
		held, of  int
		low, high float64
	}{
		{81, 263, .2553, .3662}, {15, 148, .0624, .1605}, {0, 20, 0, .1611}, {1, 29, .0061, .1718},
	} {
		got := dating.Wilson(c.held, c.of)
		if math.Abs(got.Low-c.low) > 5e-5 || math.Abs(got.High-c.high) > 5e-5 {
			t.Errorf("%d of %d: %.4f to %.4f, want %.4f to %.4f", c.held, c.of, got.Low, got.High, c.low, c.high)
		}
	}
	if got := dating.Wilson(0, 0); got.Share() != 0 || got.Low != 0 || got.High != 1 {
		t.Errorf("none of none: %+v", got)
	}
}

// calibrated is a reference in which wood is attested in 1952 by example 1
// alone, and finish by a ledger.
func calibrated(t *testing.T) *schema.Reference {
	choice := "---\nrecord: feature\nname: Wood\nkind: choice\nheld: firm\nvalues: [{id: ash}, {id: elm}]\n---\n"
	return reference(t, map[string][]byte{
		"features/wood.md": []byte(choice), "features/finish.md": []byte(strings.Replace(choice, "Wood", "Finish", 1)),
		"models/m.md": []byte(`---
record: model
name: M
maker: works
made: {span: 1951/1954, cites: [ledger]}
features:
  - {feature: wood, value: ash, span: 1952, cites: [example-1]}
  - {feature: finish, value: ash, span: 1951/1952, cites: [ledgers]}
  - {feature: finish, value: elm, span: 1953/1954, cites: [ledgers]}
---
`),
		"sources/receipt.md": []byte("---\nrecord: source\nname: Receipt\nkind: letter\n---\n"),
		"examples/1.md":      []byte("---\nrecord: example\nmodel: m\ndocumented: {span: 1952, cites: [receipt]}\nobserved: [{feature: wood, value: ash}, {feature: finish, value: ash}]\n---\n"),
		"examples/2.md":      []byte("---\nrecord: example\nmodel: m\ndocumented: {span: 1954, cites: [\"receipt, second sheet\"]}\nobserved: [{feature: finish, value: ash}]\n---\n"),
		"examples/3.md":      []byte("---\nrecord: example\nmodel: m\ndocumented: {span: 1951/1952, cites: [receipt]}\nobserved: [{feature: finish, value: ash}]\n---\n"),
	})
}

// TestCalibrate: example 1 is dated without the claim that rests on it, so by
// the finish alone: seen is .98 + .02/3 = 148/150 in 1951 and 1952 and 1/150 in
// 1953 and 1954, chance 148/298 for 1952. The 50 % set is 1951 and 1952, for
// 148/298 is not half, and so is the 95 % set (296/298). Example 2 has the same
// finish and papers for 1954: chance 1/298, held by neither. Best years are
// 1951, off by 1 and by 3. Example 3's papers give two years.
func TestCalibrate(t *testing.T) {
	ref := calibrated(t)
	c, err := calibrate(t, ref)
	if err != nil {
		t.Fatal(err)
	}
	if len(c.Trials) != 2 || len(c.LeftOut) != 1 || c.LeftOut[0].Example != "3" {
		t.Fatalf("trials %+v, left out %+v", c.Trials, c.LeftOut)
	}
	for i, want := range []dating.Trial{
		{Example: "1", Year: 1952, Chance: 148. / 298, Guess: .25, InHalf: true, InMost: true, Features: 2},
		{Example: "2", Year: 1954, Chance: 1. / 298, Guess: .25, Features: 1, Independent: true},
	} {
		got := c.Trials[i]
		if math.Abs(got.Chance-want.Chance) > 1e-12 || got.Guess != want.Guess || got.InHalf != want.InHalf || got.InMost != want.InMost || got.Year != want.Year || got.Independent != want.Independent || got.Features != want.Features || got.Best.Year != 1951 {
			t.Errorf("got %+v, want %+v", got, want)
		}
	}
	if math.Abs(c.Half.Expected-2*296./298) > 1e-12 || math.Abs(c.Most.Expected-2*296./298) > 1e-12 {
		t.Errorf("the odds expected %v and %v of 2 in their sets, want 2 * 296/298 of both", c.Half.Expected, c.Most.Expected)
	}
	if len(c.Misses) != 2 || c.Misses[0].Example != "2" || c.Misses[1].Example != "1" {
		t.Fatalf("misses %+v, want example 2, then 1", c.Misses)
	}
	if want := "Finish, ash, speaks 148 to 1 against the papers' year by the claim m/finish-ash (Ledger 1)"; c.Misses[0].Because != want {
		t.Errorf("example 2 was missed because %s, want %s", c.Misses[0].Because, want)
	}
	if want := "what was seen hardly tells the two years from each other"; c.Misses[1].Because != want {
		t.Errorf("example 1 was missed because %s, want %s", c.Misses[1].Because, want)
	}
	loss := -(math.Log2(148./298) + math.Log2(1./298)) / 2
	if c.MeanError != 2 || math.Abs(c.LogLoss-loss) > 1e-12 || c.GuessLogLoss != 2 || c.Half.Held != 1 || c.Most.Of != 2 || c.Suggested != 0 || c.Temper != 1 {
		t.Errorf("mean error %v, log loss %v (want %v), guess %v, %+v", c.MeanError, c.LogLoss, loss, c.GuessLogLoss, c)
	}
}

func TestCalibrationInWords(t *testing.T) {
	ref := calibrated(t)
	c, err := calibrate(t, ref)
	if err != nil {
		t.Fatal(err)
	}
	var text, data bytes.Buffer
	if err := c.Text(&text, nil); err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"Tried on 2 bows", "held the year once of 2; the odds themselves expected 2.", "- Example 2: its papers say 1954, the odds 1951, and less than 1 in 100 for 1954: Finish,", "Example 3 was left out: its papers do not give one year."} {
		if !strings.Contains(strings.ReplaceAll(text.String(), "\n", " "), want) {
			t.Errorf("the words lack %q:\n%s", want, text.String())
		}
	}
	if err := c.JSON(&data, nil); err != nil {
		t.Fatal(err)
	}
	var got struct {
		Version   int
		Trials    []any
		Half      struct{ Expected float64 } `json:"50"`
		Suggested *struct{ Temper float64 }
	}
	if err := json.Unmarshal(data.Bytes(), &got); err != nil || got.Version != 1 || len(got.Trials) != 2 || got.Suggested != nil || got.Half.Expected < 1.9 {
		t.Errorf("%v, %+v", err, got)
	}
}

// tempting is a reference whose two features always say the same, so that
// multiplied they count twice: 24 bows, of which every fourth shows the other's
// values, and one entry of a ledger for each, so that no bow rests on another.
func tempting(t *testing.T, judgement string) *schema.Reference {
	choice := "---\nrecord: feature\nname: Wood\nkind: choice\nheld: firm\nvalues: [{id: ash}, {id: elm}]\n---\n"
	files := map[string][]byte{
		"features/wood.md": []byte(choice), "features/finish.md": []byte(strings.Replace(choice, "Wood", "Finish", 1)),
		"models/m.md": []byte(`---
record: model
name: M
maker: works
made: {span: 1951/1952, cites: [ledger]}
features:
  - {feature: wood, value: ash, span: 1951, cites: [ledger]}
  - {feature: wood, value: elm, span: 1952, cites: [ledger]}
  - {feature: finish, value: ash, span: 1951, cites: [ledger]}
  - {feature: finish, value: elm, span: 1952, cites: [ledger]}
---
`),
	}
	if !strings.Contains(judgement, "teach") {
		judgement = strings.TrimSuffix(judgement, "}") + ", teach: off}"
	}
	if judgement != "" {
		files["reference.yaml"] = []byte("name: Tempting\nyears: 1900/1999\njudgement: " + judgement + "\n")
	}
	for i := range 24 {
		value, year := []string{"ash", "elm"}[i%2], 1951+i%2
		if i%4 == 3 {
			year = 1951
		}
		files[fmt.Sprintf("sources/r%d.md", i)] = []byte("---\nrecord: source\nname: Receipt\nkind: letter\n---\n")
		files[fmt.Sprintf("examples/%d.md", i)] = fmt.Appendf(nil, "---\nrecord: example\nmodel: m\ndocumented: {span: %d, cites: [r%d]}\nobserved: [{feature: wood, value: %s}, {feature: finish, value: %s}]\n---\n", year, i, value, value)
	}
	return reference(t, files)
}

// TestSuggestedTemper works the temper out anew: with P the chance of what was
// seen in its own year and Q in the other, both features alike, the odds are
// (P/Q)^(2 temper) to 1 for 18 bows and against 6, whose log loss is least where
// the odds are 3 to 1.
func TestSuggestedTemper(t *testing.T) {
	ref := tempting(t, "{credence: {factory-paper: 1.0}}")
	c, err := calibrate(t, ref)
	if err != nil {
		t.Fatal(err)
	}
	p, q := .98*(.99+.01/3)+.02/3, .98*.01/3+.02/3
	want := math.Log(3) / (2 * math.Log(p/q))
	if len(c.Trials) != 24 || math.Abs(c.Suggested-want) > .01 || c.TemperAtBound() || !c.Clear {
		t.Errorf("%d trials, temper %v, clear %v; want 24, %.3f and true", len(c.Trials), c.Suggested, c.Clear, want)
	}
	if words := c.TemperWords(); !strings.Contains(words, "These bows speak clearly for") {
		t.Errorf("%s", words)
	}
	for _, bound := range []float64{.01, 1} {
		ended := dating.Calibration{Temper: bound, Suggested: bound}
		if words := ended.TemperWords(); !strings.Contains(words, "which would have scored best. The search ended there, at its bound") {
			t.Errorf("at the bound %v: %s", bound, words)
		}
	}
	if strings.Contains(c.TemperWords(), "bound") {
		t.Errorf("between the bounds: %s", c.TemperWords())
	}
	ref = tempting(t, fmt.Sprintf("{credence: {factory-paper: 1.0}, temper: %.2f}", c.Suggested))
	if again, err := calibrate(t, ref); err != nil || again.Clear || again.Suggested != c.Suggested {
		t.Errorf("at the temper suggested: %v, clear %v, %v", again.Suggested, again.Clear, err)
	}
}

// TestSuggestTogether holds every setting tried against a reference that has it.
func TestSuggestTogether(t *testing.T) {
	suggest := func(judgement string) *dating.Together {
		ref := tempting(t, judgement)
		times, weights := chronology.Build(ref), provenance.Weigh(ref)
		got, err := dating.NewLeaveOneOut(dating.New(ref, times, weights), times, weights).Suggest(t.Context())
		if err != nil || got == nil {
			t.Fatal(got, err)
		}
		return got
	}
	best := suggest("{credence: {factory-paper: 1.0}}")
	with := suggest(fmt.Sprintf("{credence: {factory-paper: 1.0}, temper: %v, teach: {weight: %v, years: %d}}", best.Temper, best.Weight, best.Years))
	if with.Settings != best.Settings || with.Trials != 24 {
		t.Errorf("%+v is best, but in its own reference %+v", best, with)
	}
	for _, other := range []string{"temper: 1", "temper: 1, teach: {weight: 2, years: 1}", "temper: 0.3, teach: {weight: 8, years: 0}"} {
		if worse := suggest("{credence: {factory-paper: 1.0}, " + other + "}"); worse.Editors < with.Editors-1e-9 {
			t.Errorf("%s costs %v bits, less than the best's %v", other, worse.Editors, with.Editors)
		}
	}
}

// calibrate dates the documented examples of a reference.
func calibrate(t *testing.T, ref *schema.Reference) (dating.Calibration, error) {
	times, weights := chronology.Build(ref), provenance.Weigh(ref)
	return dating.NewLeaveOneOut(dating.New(ref, times, weights), times, weights).Calibrate(t.Context())
}
