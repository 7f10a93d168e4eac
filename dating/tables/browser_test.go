package tables_test

import (
	"bytes"
	"cmp"
	"encoding/json"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"testing"

	"yearmark/dating"
	"yearmark/dating/tables"
	"yearmark/testdata/need"
)

// sets is the number of tables and of references asked, questions of each: more than 5,000 cases.
const (
	randomTables, randomReferences = 215, 50
	questionsEach                  = 20
)

// cases is what the browser's half is asked, in the form of testdata/cases.mjs.
type cases struct {
	Tables []tableCases `json:"tables"`

	engines []*dating.Engine // as in Tables
}

type tableCases struct {
	Files     map[string]string `json:"files"`
	Questions []questionJSON    `json:"questions"`
}

type questionJSON struct {
	Models   []string             `json:"models"`
	Observed []dating.Observation `json:"observed"`
}

// answerJS is the browser's answer.
type answerJS struct {
	Refused    string               `json:"refused"`
	Impossible bool                 `json:"impossible"`
	Strict     dating.Strict        `json:"strict"`
	Odds       []dating.Odds        `json:"odds"`
	Models     []dating.ModelChance `json:"models"`
	Years      []dating.YearChance  `json:"years"`
	Best       *dating.Odds         `json:"best"`
	Likely     struct {
		Half []dating.ModelYears `json:"50"`
		Most []dating.ModelYears `json:"95"`
	} `json:"likely"`
	Evidence []struct {
		Feature  string  `json:"feature"`
		Decibans float64 `json:"decibans"`
		Claims   []struct {
			Key   string `json:"key"`
			Span  string `json:"span"`
			Label string `json:"label"`
			Seen  bool   `json:"seen"`
			Holds bool   `json:"holds"`
		} `json:"claims"`
	} `json:"evidence"`
	Look []struct {
		Feature  string  `json:"feature"`
		Bits     float64 `json:"bits"`
		Outcomes []struct {
			Values []string            `json:"values"`
			Label  string              `json:"label"`
			Chance float64             `json:"chance"`
			Best   dating.Odds         `json:"best"`
			Years  []dating.ModelYears `json:"years"`
		} `json:"outcomes"`
	} `json:"look"`
	Entropy float64 `json:"entropy"`
}

// makeCases draws tables and references, always the same.
func makeCases(t testing.TB, plain, references, each int) *cases {
	r := rand.New(rand.NewPCG(1958, 1971))
	c := &cases{}
	for i := range plain + references {
		var e *dating.Engine
		if i < plain {
			e = randomTable(t, r)
		} else {
			e = randomReference(t, r)
		}
		one := tableCases{Files: map[string]string{}}
		files, _ := tables.Build(e, nil)
		for _, f := range files {
			one.Files[f.Name] = string(f.Data)
		}
		for range each {
			q := randomQuestion(r, e)
			one.Questions = append(one.Questions, questionJSON{append([]string{}, q.Models...), append([]dating.Observation{}, q.Observed...)})
		}
		c.Tables = append(c.Tables, one)
		c.engines = append(c.engines, e)
	}
	return c
}

func engineScript(t testing.TB) string {
	return filepath.Join(need.Root(t), "site", "assets", "js", "dating", "engine.js")
}

func TestNodeAgrees(t *testing.T) {
	node := need.Node(t)
	c := makeCases(t, randomTables, randomReferences, questionsEach)
	file := filepath.Join(t.TempDir(), "cases.json")
	data, err := json.Marshal(c)
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(file, data, 0o600); err != nil {
		t.Fatal(err)
	}
	run := exec.Command(node, "testdata/node.mjs", engineScript(t), file)
	var complaints bytes.Buffer
	run.Stderr = &complaints
	out, err := run.Output()
	if err != nil {
		t.Fatalf("%v\n%s", err, complaints.String())
	}
	compare(t, c, out)
}

// compare holds the browser's answers against the engine's.
func compare(t *testing.T, c *cases, data []byte) {
	t.Helper()
	var answers []answerJS
	if err := json.Unmarshal(data, &answers); err != nil {
		t.Fatal(err)
	}
	at, compared := 0, 0
	for i, e := range c.engines {
		for _, q := range c.Tables[i].Questions {
			got := answers[at]
			at++
			want, err := e.Date(dating.Question{Models: q.Models, Observed: q.Observed})
			if err != nil {
				if got.Refused == "" {
					t.Errorf("case %d: refused here (%v) but not in the browser", at, err)
				}
				continue
			}
			compared++
			if diff := differs(want, &got); diff != "" {
				t.Errorf("case %d, %+v: %s", at, q, diff)
			}
			if t.Failed() && at > 200 {
				t.FailNow()
			}
		}
	}
	if at != len(answers) || compared < at*9/10 {
		t.Errorf("%d cases, %d answers, %d compared", at, len(answers), compared)
	}
	t.Logf("%d answers alike, %d refused on both sides", compared, at-compared)
}

// tolerance is how far odds, bits and decibans may differ.
const tolerance = 1e-9

func differs(want *dating.Answer, got *answerJS) string {
	switch {
	case got.Refused != "":
		return "refused in the browser: " + got.Refused
	case want.Impossible != got.Impossible || (want.Best == nil) != (got.Best == nil):
		return "impossible on one side alone"
	case math.Abs(want.Entropy-got.Entropy) > tolerance:
		return fmt.Sprintf("entropy %v, in the browser %v", want.Entropy, got.Entropy)
	}
	for _, pair := range [][2]any{
		{want.Strict.Years, got.Strict.Years}, {want.Strict.Conflicts, got.Strict.Conflicts}, {want.Strict.Without, got.Strict.Without},
		{byName(want.Likely50), byName(got.Likely.Half)}, {byName(want.Likely95), byName(got.Likely.Most)},
	} {
		if a, b := fmt.Sprint(pair[0]), fmt.Sprint(pair[1]); a != b {
			return a + ", in the browser " + b
		}
	}
	if want.Best != nil && (want.Best.Model != got.Best.Model || want.Best.Maker != got.Best.Maker || want.Best.Year != got.Best.Year) {
		return fmt.Sprintf("best %v, in the browser %v", want.Best, got.Best)
	}
	for _, pair := range [][2]map[string]float64{
		{chances(want.Odds, pairName), chances(got.Odds, pairName)},
		{chances(want.Models, modelName), chances(got.Models, modelName)},
		{chances(want.Years, yearName), chances(got.Years, yearName)},
	} {
		if d := farthest(pair[0], pair[1]); d != "" {
			return d
		}
	}
	return reasonsDiffer(want, got)
}

// byName puts models in order of name: those that hold as much may be parted by rounding.
func byName(list []dating.ModelYears) []dating.ModelYears {
	return slices.SortedFunc(slices.Values(list), func(a, b dating.ModelYears) int {
		return cmp.Or(cmp.Compare(a.Model, b.Model), cmp.Compare(a.Maker, b.Maker))
	})
}

func pairName(o dating.Odds) (string, float64) {
	return fmt.Sprint(o.Model, "/", o.Maker, " ", o.Year), o.Chance
}
func modelName(m dating.ModelChance) (string, float64) { return m.Model + "/" + m.Maker, m.Chance }
func yearName(y dating.YearChance) (string, float64)   { return fmt.Sprint(y.Year), y.Chance }

// chances gives a list's chances by name.
func chances[T any](list []T, name func(T) (string, float64)) map[string]float64 {
	all := make(map[string]float64, len(list))
	for _, v := range list {
		n, c := name(v)
		all[n] = c
	}
	return all
}

// farthest names the chance that differs by more than the tolerance, if one does.
func farthest(want, got map[string]float64) string {
	if len(want) != len(got) {
		return fmt.Sprintf("%d chances, in the browser %d", len(want), len(got))
	}
	for name, c := range want {
		if math.Abs(got[name]-c) > tolerance {
			return fmt.Sprintf("%s has %v, in the browser %v", name, c, got[name])
		}
	}
	return ""
}

// reasonsDiffer compares evidence and looks.
func reasonsDiffer(want *dating.Answer, got *answerJS) string {
	if len(want.Evidence) != len(got.Evidence) || len(want.Suggestion) != len(got.Look) {
		return fmt.Sprintf("%d observations weighed and %d looks, in the browser %d and %d", len(want.Evidence), len(want.Suggestion), len(got.Evidence), len(got.Look))
	}
	for i, e := range want.Evidence {
		g := got.Evidence[i]
		if e.Feature != g.Feature || math.Abs(e.Decibans-g.Decibans) > tolerance && e.Decibans != g.Decibans {
			return fmt.Sprintf("%s weighs %v decibans, in the browser %s %v", e.Feature, e.Decibans, g.Feature, g.Decibans)
		}
		if len(e.Claims) != len(g.Claims) {
			return fmt.Sprintf("%s rests on %d claims, in the browser on %d", e.Feature, len(e.Claims), len(g.Claims))
		}
		for k, c := range e.Claims {
			if h := g.Claims[k]; c.Claim.Key() != h.Key || c.Years.String() != h.Span || c.Label != h.Label || c.Seen != h.Seen || c.Holds != h.Holds {
				return fmt.Sprintf("%s rests on %v, in the browser on %v", e.Feature, c.Claim.Key(), h)
			}
		}
	}
	return looksDiffer(want, got)
}

func looksDiffer(want *dating.Answer, got *answerJS) string {
	bits := map[string]float64{}
	for _, l := range got.Look {
		bits[l.Feature] = l.Bits
	}
	for i, l := range want.Suggestion {
		if math.Abs(l.Bits-bits[l.Feature]) > tolerance || math.Abs(l.Bits-got.Look[i].Bits) > tolerance {
			return fmt.Sprintf("%s would tell %v bits, in the browser %v", l.Feature, l.Bits, bits[l.Feature])
		}
	}
	if len(want.Suggestion) == 0 || want.Suggestion[0].Feature != got.Look[0].Feature {
		return ""
	}
	outcomes := got.Look[0].Outcomes
	if len(outcomes) != len(want.Suggestion[0].Outcomes) {
		return fmt.Sprintf("%d outcomes of %s, in the browser %d", len(want.Suggestion[0].Outcomes), want.Suggestion[0].Feature, len(outcomes))
	}
	for i, o := range want.Suggestion[0].Outcomes {
		g := outcomes[i]
		if math.Abs(o.Chance-g.Chance) > tolerance {
			return fmt.Sprintf("outcome %s of chance %v, in the browser %s of %v", o.Label, o.Chance, g.Label, g.Chance)
		}
		alike := o.Label == g.Label && slices.Equal(o.Values, g.Values) && o.Best.Model == g.Best.Model && o.Best.Maker == g.Best.Maker && o.Best.Year == g.Best.Year && fmt.Sprint(byName(o.Likely50)) == fmt.Sprint(byName(g.Years))
		level := i > 0 && math.Abs(o.Chance-want.Suggestion[0].Outcomes[i-1].Chance) < tolerance || i+1 < len(outcomes) && math.Abs(o.Chance-want.Suggestion[0].Outcomes[i+1].Chance) < tolerance
		if !alike && !level {
			return fmt.Sprintf("outcome %+v, in the browser %+v", o, g)
		}
	}
	return ""
}
