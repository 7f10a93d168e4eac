package dating_test

import (
	"bytes"
	"fmt"
	"io/fs"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
	"testing/fstest"

	"yearmark/chronology"
	"yearmark/dating"
	"yearmark/dating/odds"
	"yearmark/provenance"
	"yearmark/schema"
)

// A vector is one file below testdata/vectors: why its figures are what they
// are, a small reference or a table of chances, and what the engine must make
// of some questions. Its records are laid over those of testdata/base.txtar.
// The lines of its part `expect`:
//
//	ask [MODEL …]                a new question; without models, any
//	see FEATURE=VALUE[,VALUE] [sure|fairly|unsure|certain]
//	within 1e-6                  the tolerance of the figures that follow (1e-9 at first)
//	odds MODEL YEAR CHANCE       model MODEL CHANCE       best MODEL YEAR
//	entropy BITS                 bits FEATURE BITS        decibans FEATURE DECIBANS
//	first FEATURE                what to look at first
//	outcome FEATURE LABEL CHANCE what the first look may show
//	strict MODEL YEARS | none    years as 1964 or 1964-1967, joined by commas
//	without FEATURE MODEL YEARS | none
//	conflict FEATURE …           the next of the minimal conflicting sets
//	conflicts COUNT
//	likely50 MODEL YEARS         likely95 MODEL YEARS
//	impossible                   refused WORDS
//
// A table is written as lines `pair MODEL YEAR PRIOR`, then for each feature
// `feature NAME OUTCOME …` and one line `MODEL YEAR CHANCE …` a pair. Chances
// may be fractions, as in 1/9. In a table, `sure` and `certain` are both for certain.
type vector struct {
	engine *dating.Engine
	lines  []string
}

func TestVectors(t *testing.T) {
	files, err := filepath.Glob("testdata/vectors/*.txt")
	if err != nil || len(files) == 0 {
		t.Fatalf("no vectors: %v", err)
	}
	for _, file := range files {
		t.Run(strings.TrimSuffix(filepath.Base(file), ".txt"), func(t *testing.T) {
			v := readVector(t, file)
			for _, ask := range v.questions() {
				t.Run("as asked", func(t *testing.T) { ask.check(t, v.engine) })
				t.Run("shuffled", func(t *testing.T) {
					rand.New(rand.NewPCG(1, 2)).Shuffle(len(ask.question.Observed), func(i, j int) {
						o := ask.question.Observed
						o[i], o[j] = o[j], o[i]
					})
					ask.check(t, v.engine)
				})
			}
		})
	}
}

func readVector(t *testing.T, file string) *vector {
	t.Helper()
	reason, files := parts(t, file)
	if strings.TrimSpace(reason) == "" {
		t.Fatal("the vector does not say why its figures are what they are")
	}
	v := &vector{}
	v.lines = strings.Split(string(files["expect"]), "\n")
	delete(files, "expect")
	if table, ok := files["table"]; ok {
		v.engine = tableOf(t, string(table))
		return v
	}
	v.engine = engineOf(t, reference(t, files))
	return v
}

// parts reads a file of parts, each begun by a line "-- name --", and what stands before the first.
func parts(t testing.TB, file string) (before string, files map[string][]byte) {
	t.Helper()
	data, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	files = map[string][]byte{}
	name := ""
	for line := range strings.Lines(string(data)) {
		trimmed := strings.TrimSpace(line)
		switch {
		case strings.HasPrefix(trimmed, "-- ") && strings.HasSuffix(trimmed, " --"):
			name = strings.TrimSuffix(strings.TrimPrefix(trimmed, "-- "), " --")
			files[name] = []byte{}
		case name == "":
			before += line
		default:
			files[name] = append(files[name], line...)
		}
	}
	return before, files
}

// reference reads records laid over those of testdata/base.txtar.
func reference(t testing.TB, files map[string][]byte) *schema.Reference {
	t.Helper()
	_, base := parts(t, "testdata/base.txtar")
	folder := fstest.MapFS{}
	for name, data := range base {
		folder[name] = &fstest.MapFile{Data: data, Mode: 0o644}
	}
	for name, data := range files {
		data = bytes.ReplaceAll(data, []byte("[ledgers]"), []byte("[ledger-1, ledger-2, ledger-3, ledger-4, ledger-5]"))
		folder[name] = &fstest.MapFile{Data: data, Mode: 0o644}
	}
	return read(t, folder)
}

func read(t testing.TB, folder fs.FS) *schema.Reference {
	t.Helper()
	ref, problems, err := schema.ReadFS(folder, "vector")
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range problems {
		t.Errorf("%s: %s", p.Pos, p.Message)
	}
	return ref
}

func engineOf(t testing.TB, ref *schema.Reference) *dating.Engine {
	t.Helper()
	e := dating.New(ref, chronology.Build(ref), provenance.Weigh(ref))
	if err := e.Table().Validate(); err != nil {
		t.Fatal(err)
	}
	return e
}

// tableOf reads a table of chances.
func tableOf(t *testing.T, text string) *dating.Engine {
	t.Helper()
	g := dating.Given{Values: map[string][]string{}, Sure: map[schema.Sureness]float64{schema.Sure: 1, "certain": 1, schema.Fairly: .85, schema.Unsure: .6}}
	g.Table.Temper = 1
	for line := range strings.Lines(text) {
		words := strings.Fields(line)
		switch {
		case len(words) == 0:
		case words[0] == "temper":
			g.Table.Temper = fraction(t, words[1])
		case words[0] == "pair":
			addPair(&g.Table, words[1], whole(t, words[2]), fraction(t, words[3]))
		case words[0] == "feature":
			g.Table.Features = append(g.Table.Features, odds.Feature{ID: words[1], Outcomes: len(words) - 2})
			g.Values[words[1]] = words[2:]
		default:
			addRow(t, &g.Table.Features[len(g.Table.Features)-1], words[2:])
		}
	}
	e, err := dating.FromTable(g)
	if err != nil {
		t.Fatal(err)
	}
	return e
}

func addPair(table *odds.Table, model string, year int, prior float64) {
	table.Years, table.Prior = append(table.Years, int32(year)), append(table.Prior, prior)
	if last := len(table.Models) - 1; last >= 0 && table.Models[last].ID == model {
		table.Models[last].End++
		return
	}
	at := len(table.Years) - 1
	table.Models = append(table.Models, odds.Model{ID: model, Start: at, End: at + 1})
}

func addRow(t *testing.T, f *odds.Feature, chances []string) {
	var row odds.Row
	row.Rest = math.Inf(1)
	for _, c := range chances {
		row.Rest = min(row.Rest, fraction(t, c))
	}
	for v, c := range chances {
		if x := fraction(t, c); x > 0 {
			row.Cells = append(row.Cells, odds.Cell{From: int32(v), To: int32(v), Chance: x, Possible: true})
		}
	}
	f.RowOf = append(f.RowOf, uint32(len(f.Rows)))
	f.Rows = append(f.Rows, row)
}

func fraction(t *testing.T, s string) float64 {
	t.Helper()
	above, below, divided := strings.Cut(s, "/")
	x, err := strconv.ParseFloat(above, 64)
	if err == nil && divided {
		var y float64
		y, err = strconv.ParseFloat(below, 64)
		x /= y
	}
	if err != nil {
		t.Fatalf("%q is no figure", s)
	}
	return x
}

func whole(t *testing.T, s string) int {
	t.Helper()
	n, err := strconv.Atoi(s)
	if err != nil {
		t.Fatalf("%q is no whole number", s)
	}
	return n
}

// ask is one question of a vector and the lines that its answer must meet.
type ask struct {
	question dating.Question
	lines    []string
}

func (v *vector) questions() []*ask {
	var list []*ask
	for _, line := range v.lines {
		words := strings.Fields(line)
		if len(words) == 0 || strings.HasPrefix(line, "#") {
			continue
		}
		switch words[0] {
		case "ask":
			list = append(list, &ask{question: dating.Question{Models: words[1:]}})
		case "see":
			last := list[len(list)-1]
			words := strings.Fields(strings.TrimPrefix(line, "see"))
			o := dating.Observation{}
			if n := len(words) - 1; slices.Contains([]string{"sure", "fairly", "unsure", "certain"}, words[n]) {
				o.Sure, words = schema.Sureness(words[n]), words[:n]
			}
			name, values, _ := strings.Cut(strings.Join(words, " "), "=")
			o.Feature, o.Values = name, strings.Split(values, ",")
			last.question.Observed = append(last.question.Observed, o)
		default:
			last := list[len(list)-1]
			last.lines = append(last.lines, line)
		}
	}
	return list
}

// check holds the engine's answer against the lines.
func (a *ask) check(t *testing.T, e *dating.Engine) {
	t.Helper()
	answer, err := e.Date(a.question)
	c := &checker{T: t, answer: answer, err: err, tolerance: 1e-9}
	if err != nil && !strings.HasPrefix(a.lines[0], "refused") {
		t.Fatal(err)
	}
	for _, line := range a.lines {
		words := strings.Fields(line)
		if !c.line(words[0], words[1:]) {
			t.Errorf("the line %q is not understood", line)
		}
	}
	if len(a.lines) == 0 {
		t.Error("nothing is expected of the answer")
	}
}

type checker struct {
	*testing.T
	answer    *dating.Answer
	err       error
	tolerance float64
	conflicts int
}

func (c *checker) line(what string, words []string) bool {
	switch what {
	case "within":
		c.tolerance = fraction(c.T, words[0])
	case "odds":
		c.near(strings.Join(words[:2], " "), c.chance(words[0], whole(c.T, words[1])), words[2])
	case "model":
		i := slices.IndexFunc(c.answer.Models, func(m dating.ModelChance) bool { return m.Model == words[0] })
		c.near(words[0], c.answer.Models[i].Chance, words[1])
	case "best":
		c.same("best", fmt.Sprintf("%s %d", c.answer.Best.Model, c.answer.Best.Year), strings.Join(words, " "))
	case "entropy":
		c.near("entropy", c.answer.Entropy, words[0])
	case "bits":
		i := slices.IndexFunc(c.answer.Suggestion, func(l dating.Suggestion) bool { return l.Feature == words[0] })
		c.near("bits of "+words[0], c.answer.Suggestion[i].Bits, words[1])
	case "first":
		c.same("first look", c.answer.Suggestion[0].Feature, words[0])
	case "outcome":
		i := slices.IndexFunc(c.answer.Suggestion[0].Outcomes, func(o dating.Outcome) bool { return o.Label == words[1] })
		c.same("first look", c.answer.Suggestion[0].Feature, words[0])
		c.near("outcome "+words[1], c.answer.Suggestion[0].Outcomes[i].Chance, words[2])
	case "decibans":
		i := slices.IndexFunc(c.answer.Evidence, func(e dating.Evidence) bool { return e.Feature == words[0] })
		c.near("decibans of "+words[0], c.answer.Evidence[i].Decibans, words[1])
	default:
		return c.sets(what, words)
	}
	return true
}

func (c *checker) sets(what string, words []string) bool {
	switch what {
	case "strict":
		c.same("strict", told(c.answer.Strict.Years), strings.Join(words, " "))
	case "without":
		i := slices.IndexFunc(c.answer.Strict.Without, func(w dating.Without) bool { return w.Feature == words[0] })
		c.same("without "+words[0], told(c.answer.Strict.Without[i].Years), strings.Join(words[1:], " "))
	case "conflict":
		got := c.answer.Strict.Conflicts[c.conflicts]
		c.conflicts++
		slices.Sort(got)
		c.same("conflict", strings.Join(got, " "), strings.Join(words, " "))
	case "conflicts":
		c.same("conflicts", strconv.Itoa(len(c.answer.Strict.Conflicts)), words[0])
	case "likely50":
		c.same("half of the odds", told(c.answer.Likely50), strings.Join(words, " "))
	case "likely95":
		c.same("95 in 100", told(c.answer.Likely95), strings.Join(words, " "))
	case "impossible":
		c.same("impossible", fmt.Sprint(c.answer.Impossible, c.answer.Best == nil), "true true")
	case "refused":
		c.same("refused", fmt.Sprint(c.err), strings.Join(words, " "))
	default:
		return false
	}
	return true
}

func (c *checker) near(what string, got float64, want string) {
	c.Helper()
	if math.Abs(got-fraction(c.T, want)) > c.tolerance {
		c.Errorf("%s: got %.10g, want %s within %g", what, got, want, c.tolerance)
	}
}

func (c *checker) same(what, got, want string) {
	c.Helper()
	if got != want {
		c.Errorf("%s: got %q, want %q", what, got, want)
	}
}

func (c *checker) chance(model string, year int) float64 {
	for _, o := range c.answer.Odds {
		if o.Model == model && o.Year == year {
			return o.Chance
		}
	}
	return 0
}

// told writes years as vectors do.
func told(list []dating.ModelYears) string {
	var parts []string
	for _, m := range list {
		var years []string
		for i := 0; i < len(m.Years); {
			j := i
			for j+1 < len(m.Years) && m.Years[j+1] == m.Years[j]+1 {
				j++
			}
			run := strconv.Itoa(m.Years[i])
			if j > i {
				run += "-" + strconv.Itoa(m.Years[j])
			}
			years = append(years, run)
			i = j + 1
		}
		parts = append(parts, m.Model+" "+strings.Join(years, ","))
	}
	if parts == nil {
		return "none"
	}
	return strings.Join(parts, "; ")
}

func TestVectorsOneByOne(t *testing.T) {
	files, _ := filepath.Glob("testdata/vectors/*.txt")
	for _, file := range files {
		v := readVector(t, file)
		for _, ask := range v.questions() {
			q := ask.question
			all, err := v.engine.Date(q)
			if err != nil || all.Impossible {
				continue
			}
			step := *v.engine.Table()
			for _, o := range q.Observed {
				step.Prior = after(t, v.engine, &step, q.Models, o)
			}
			for _, want := range all.Odds {
				for m, model := range step.Models {
					for h := model.Start; h < model.End; h++ {
						if want.Model == model.ID && want.Year == int(step.Years[h]) && len(q.Observed) > 0 && math.Abs(step.Prior[h]-want.Chance) > 1e-12 {
							t.Errorf("%s: %s %d (model %d): %v at once, %v one by one", file, want.Model, want.Year, m, want.Chance, step.Prior[h])
						}
					}
				}
			}
		}
	}
}

// after gives every pair's chance once one more feature has been observed.
func after(t *testing.T, e *dating.Engine, table *odds.Table, models []string, o dating.Observation) []float64 {
	t.Helper()
	one, err := e.FeatureNamed(o.Feature)
	if err != nil {
		t.Fatal(err)
	}
	var seen odds.Seen
	for _, v := range o.Values {
		outcomes, err := e.Features()[one].Domain.Observed(v)
		if err != nil {
			t.Fatal(err)
		}
		seen.Outcomes = append(seen.Outcomes, outcomes...)
	}
	slices.Sort(seen.Outcomes)
	seen.Outcomes = slices.Compact(seen.Outcomes)
	seen.Feature, seen.Sure = one, e.Observers()[o.Sure]
	if o.Sure == "" {
		seen.Sure = e.Observers()[schema.Sure]
	}
	var places []int
	for _, m := range models {
		at, err := e.ModelNamed(m)
		if err != nil {
			t.Fatal(err)
		}
		places = append(places, at)
	}
	p := table.Posterior(odds.Query{Models: places, Seen: []odds.Seen{seen}})
	chances := make([]float64, table.Pairs())
	for i, c := range p.Chance {
		chances[p.Pair(i)] = c
	}
	return chances
}
