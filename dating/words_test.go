package dating_test

import (
	"bytes"
	"encoding/json"
	"flag"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"yearmark/dating"
	"yearmark/dating/odds"
	"yearmark/schema"
	"yearmark/schema/edtf"
)

var update = flag.Bool("update", false, "write the words as they are now into testdata/words")

func wordsEngine(t testing.TB) *dating.Engine {
	t.Helper()
	_, files := parts(t, "testdata/words/reference.txt")
	return engineOf(t, reference(t, files))
}

// TestWords holds answers in words against testdata/words; -update rewrites them.
func TestWords(t *testing.T) {
	e := wordsEngine(t)
	names, err := filepath.Glob("testdata/words/*.txt")
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range names {
		reason, files := parts(t, name)
		if files["ask"] == nil {
			continue
		}
		t.Run(strings.TrimSuffix(filepath.Base(name), ".txt"), func(t *testing.T) {
			v := vector{lines: strings.Split(string(files["ask"]), "\n")}
			a, err := e.Date(v.questions()[0].question)
			if err != nil {
				t.Fatal(err)
			}
			var got bytes.Buffer
			if err := dating.Text(&got, a, dating.TextOptions{Edition: "2026-01-01"}); err != nil {
				t.Fatal(err)
			}
			if *update {
				whole := reason + "-- ask --\n" + string(files["ask"]) + "-- want --\n" + got.String()
				if err := os.WriteFile(name, []byte(whole), 0o644); err != nil {
					t.Fatal(err)
				}
				return
			}
			if got.String() != string(files["want"]) {
				t.Errorf("got\n%s\nwant\n%s", got.String(), files["want"])
			}
			for line := range strings.Lines(got.String()) {
				if len([]rune(strings.TrimRight(line, "\n"))) > 78 {
					t.Errorf("the line %q is longer than 78 characters", line)
				}
			}
		})
	}
}

// TestJSONIsAsDocumented wants every key that the plan documents, with no list null.
func TestJSONIsAsDocumented(t *testing.T) {
	e := wordsEngine(t)
	for _, q := range []dating.Question{
		{}, {Models: []string{"knot"}, Observed: []dating.Observation{{Feature: "wood", Values: []string{"walnut"}}, {Feature: "socket", Values: []string{"present"}, Sure: schema.Unsure}}},
	} {
		a, err := e.Date(q)
		if err != nil {
			t.Fatal(err)
		}
		var out bytes.Buffer
		if err := dating.JSON(&out, a, "2026"); err != nil {
			t.Fatal(err)
		}
		if strings.Contains(out.String(), ": null") {
			t.Errorf("a list is null in %s", out.String())
		}
		var got map[string]json.RawMessage
		if err := json.Unmarshal(out.Bytes(), &got); err != nil {
			t.Fatal(err)
		}
		for _, key := range []string{"version", "edition", "observed", "strict", "odds", "models", "best", "likely", "evidence", "look"} {
			if got[key] == nil {
				t.Errorf("the key %q is missing", key)
			}
		}
		var deep struct {
			Version  int
			Strict   struct{ Years, Conflicts, Without []any }
			Likely   map[string][]struct{ Model string }
			Evidence []struct {
				Feature  string
				Decibans *float64
				Claims   []struct {
					Claim, Span string
					Cites       []string
				}
			}
			Look []struct {
				Feature, Effort string
				Bits            *float64
			}
		}
		if err := json.Unmarshal(out.Bytes(), &deep); err != nil {
			t.Fatal(err)
		}
		if deep.Version != 1 || len(deep.Likely["50"]) == 0 || len(deep.Likely["95"]) == 0 || len(deep.Evidence) != len(q.Observed) || len(deep.Look) != 6-len(q.Observed) || deep.Look[0].Effort == "" {
			t.Errorf("%+v", deep)
		}
		for _, e := range deep.Evidence {
			if e.Decibans == nil || len(e.Claims) == 0 || e.Claims[0].Span == "" || len(e.Claims[0].Cites) == 0 || !strings.HasPrefix(e.Claims[0].Claim, "knot/") {
				t.Errorf("evidence %+v", e)
			}
		}
	}
}

// TestOrderOfObservationsIsNothing asks the same in every order: the answers
// are the same to the last bit.
func TestOrderOfObservationsIsNothing(t *testing.T) {
	e := wordsEngine(t)
	seen := []dating.Observation{
		{Feature: "wood", Values: []string{"walnut", "sapele"}}, {Feature: "mark", Values: []string{"Oval"}, Sure: schema.Fairly},
		{Feature: "Stabiliser socket", Values: []string{"present"}, Sure: schema.Unsure}, {Feature: "serial", Values: []string{"x1"}}, {Feature: "draw-weight", Values: []string{"33"}},
	}
	first, err := e.Date(dating.Question{Observed: seen})
	if err != nil {
		t.Fatal(err)
	}
	rapid.Check(t, func(t *rapid.T) {
		order := rapid.Permutation(seen).Draw(t, "order")
		a, err := e.Date(dating.Question{Observed: order})
		if err != nil {
			t.Fatal(err)
		}
		if !slices.Equal(a.Odds, first.Odds) || a.Entropy != first.Entropy || a.Suggestion[0].Bits != first.Suggestion[0].Bits {
			t.Fatal("the order of observations changes the answer")
		}
		for i, ev := range a.Evidence {
			at := slices.IndexFunc(first.Evidence, func(f dating.Evidence) bool { return f.Feature == ev.Feature })
			if ev.Decibans != first.Evidence[at].Decibans || a.Observed[i].Feature != ev.Feature {
				t.Fatal("evidence stands out of order")
			}
		}
	})
}

// TestFormulasMakeChances: whatever the claims, a row's chances sum to 1 and
// none is 0 while anything is loose or unknown.
func TestFormulasMakeChances(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := dating.Rates{Outcomes: rapid.IntRange(2, 30).Draw(t, "outcomes"), Numbers: rapid.Bool().Draw(t, "numbers"), Looseness: rapid.SampledFrom([]float64{0, .01, .2}).Draw(t, "e")}
		if rapid.Bool().Draw(t, "altered") {
			r.Altered, r.To = .1, []int{rapid.IntRange(0, r.Outcomes-1).Draw(t, "to")}
		}
		var claims []dating.Support
		for range rapid.IntRange(0, 6).Draw(t, "claims") {
			a := rapid.IntRange(0, r.Outcomes-1).Draw(t, "from")
			b := a
			if r.Numbers {
				b = rapid.IntRange(a, r.Outcomes-1).Draw(t, "to")
			}
			first := rapid.IntRange(1950, 1955).Draw(t, "first")
			claims = append(claims, dating.Support{First: a, Last: b, Credence: rapid.Float64Range(0, 1).Draw(t, "c"), Looseness: -1, Years: overYears(first, first+2)})
		}
		row := r.Row(claims, 1953)
		table := odds.Table{
			Years: []int32{1953}, Prior: []float64{1}, Temper: 1, Models: []odds.Model{{ID: "m", End: 1}},
			Features: []odds.Feature{{ID: "f", Outcomes: r.Outcomes, Rows: []odds.Row{row}, RowOf: []uint32{0}}},
		}
		if err := table.Validate(); err != nil {
			t.Fatal(err)
		}
		if r.Looseness > 0 && row.Rest == 0 {
			t.Fatal("a custom order is impossible")
		}
	})
}

func overYears(first, last int) edtf.Years {
	return edtf.OverRange(edtf.Range{First: first, Last: last})
}

// FuzzList gives a list whatever bytes: it never panics, and every row it
// counts is written.
func FuzzList(f *testing.F) {
	f.Add("wood,mark\nwalnut,oval\n\"x\"y,\n")
	f.Add("\ufeffmodel;Riser wood;wood sure\nknot;walnut|sapele?;fairly\n")
	f.Add("serial\tdraw-weight\nK217\t7 1/4..9\n")
	e := wordsEngine(f)
	f.Fuzz(func(t *testing.T, text string) {
		l, err := e.OpenList(strings.NewReader(text))
		if err != nil {
			return
		}
		var out bytes.Buffer
		tally, err := l.JSON(&out, "", nil)
		if err != nil {
			return
		}
		var got struct{ Rows []any }
		if err := json.Unmarshal(out.Bytes(), &got); err != nil || len(got.Rows) != tally.Rows || tally.Dated+tally.Bad != tally.Rows {
			t.Errorf("%v: %d rows written, %+v", err, len(got.Rows), tally)
		}
	})
}

// TestEmptyReference: a reference without models or features answers, and refuses what it does not know.
func TestEmptyReference(t *testing.T) {
	ref := reference(t, nil)
	e := engineOf(t, ref)
	a, err := e.Date(dating.Question{})
	if err != nil || !a.Impossible || a.Best != nil {
		t.Errorf("%v, %+v", err, a)
	}
	var out bytes.Buffer
	if err := dating.Text(&out, a, dating.TextOptions{}); err != nil || !strings.Contains(out.String(), "No model and year are left") {
		t.Errorf("%v: %s", err, out.String())
	}
	if err := dating.JSON(&out, a, ""); err != nil {
		t.Error(err)
	}
	if _, err := e.Date(dating.Question{Observed: []dating.Observation{{Feature: "wood", Values: []string{"x"}}}}); err == nil {
		t.Error("a feature that is not there is taken")
	}
	if c, err := calibrate(t, ref); err != nil || len(c.Trials) != 0 || c.Text(&out, nil) != nil {
		t.Errorf("%+v", c)
	}
}
