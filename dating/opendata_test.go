package dating_test

import (
	"encoding/json"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
	"testing/fstest"

	"yearmark/dating"
	"yearmark/schema"
	"yearmark/testdata/need"
)

// The open datasets are dated as a club would date bows: every other row is an
// examined example of the reference, with its year documented and one claim a
// figure that rests on it; the rest are held back and dated by their figures
// alone. The temper is the one that Calibrate suggests from the reference alone.
//
// Baselines (worked out from the data apart from this engine): cars, always the median, errs by
// 3.30 years; a uniform guess costs 3.585 bits; one likelihood a feature,
// multiplied (power 1), costs 3.971 bits and its 90 % sets hold 0.680; power
// 0.33 costs 3.358 and holds 0.914. Aircraft: 14.49 years, 6.150 bits; 5.818
// and 0.698; 5.441 and 0.903.

// artefact is one row of an open dataset: its year and some figures.
type artefact struct {
	year    int
	figures []float64 // NaN where not known
}

// dataset is an open dataset as a club would know it.
type dataset struct {
	name     string
	rows     []artefact
	features []string
	years    string // the made span
	circa    int    // how far in years a row speaks
	bins     int    // steps of each figure's scale
	reach    int    // steps to each side that a row speaks for
	held     string // how strictly figures kept to what is known
}

// cars reads cars.json of npm vega-datasets: 406 cars of 1970 to 1982. The
// models of 1981 are folded into 1982 (check its own file order).
func cars(t testing.TB) *dataset {
	t.Helper()
	data, err := os.ReadFile(filepath.Join(need.Npm(t, "vega-datasets"), "node_modules", "vega-datasets", "data", "cars.json"))
	if err != nil {
		t.Fatal(err)
	}
	var rows []map[string]any
	if err := json.Unmarshal(data, &rows); err != nil {
		t.Fatal(err)
	}
	d := &dataset{name: "cars", years: `"{1970..1980,1982}"`, circa: 1, bins: 5, held: "usual",
		features: []string{"Miles_per_Gallon", "Cylinders", "Displacement", "Horsepower", "Weight_in_lbs", "Acceleration", "Origin"}}
	origins := map[string]float64{"USA": 1, "Japan": 2, "Europe": 3}
	for _, r := range rows {
		year, err := strconv.Atoi(r["Year"].(string)[:4])
		if err != nil {
			t.Fatal(err)
		}
		a := artefact{year: year}
		for _, f := range d.features {
			x, ok := r[f].(float64)
			if name, text := r[f].(string); text {
				x, ok = origins[name], true
			}
			if !ok {
				x = math.NaN()
			}
			a.figures = append(a.figures, x)
		}
		d.rows = append(d.rows, a)
	}
	return d
}

// aircraft reads aircraft.dat of Debian's r-cran-sm: 709 designs of 1914 to 1984.
func aircraft(t testing.TB) *dataset {
	t.Helper()
	data, err := os.ReadFile(need.Fetched(t, "aircraft.dat"))
	if err != nil {
		t.Fatal(err)
	}
	d := &dataset{name: "aircraft", years: "1914/1984", circa: 6, bins: 8, reach: 1, held: "loose",
		features: []string{"power", "span", "length", "weight", "speed", "range"}}
	for i, line := range strings.Split(strings.TrimSpace(string(data)), "\n") {
		words := strings.Fields(line)
		if i == 0 {
			continue
		}
		var figures []float64
		for _, w := range words {
			x, err := strconv.ParseFloat(w, 64)
			if err != nil {
				t.Fatal(err)
			}
			figures = append(figures, x)
		}
		d.rows = append(d.rows, artefact{1900 + int(figures[0]), figures[2:]})
	}
	return d
}

// scales gives the upper ends of each feature's bins, of which each holds
// about as many of the rows.
func (d *dataset) scales(rows []artefact) [][]float64 {
	var scales [][]float64
	for f := range d.features {
		var all []float64
		for _, r := range rows {
			if !math.IsNaN(r.figures[f]) {
				all = append(all, r.figures[f])
			}
		}
		slices.Sort(all)
		var ends []float64
		for b := 1; b < d.bins; b++ {
			ends = append(ends, all[b*len(all)/d.bins])
		}
		scales = append(scales, slices.Compact(ends))
	}
	return scales
}

func bin(ends []float64, x float64) int {
	n := 0
	for n < len(ends) && x >= ends[n] {
		n++
	}
	return n
}

// reference writes the rows as a club would: every row an examined example
// with its year documented, and for every figure a claim that rests on it.
func (d *dataset) reference(t testing.TB, rows []artefact, scales [][]float64, temper float64) *schema.Reference {
	t.Helper()
	folder := fstest.MapFS{}
	put := func(name, text string) { folder[name] = &fstest.MapFile{Data: []byte(text), Mode: 0o644} }
	put("reference.yaml", fmt.Sprintf("name: %s\nyears: 1900/1999\njudgement: {circa: %d, temper: %v, teach: off}\n", d.name, d.circa, temper))
	put("makers/all.md", "---\nrecord: maker\nname: All\n---\n")
	put("sources/catalogue.md", "---\nrecord: source\nname: Catalogue\nkind: factory-paper\n---\n")
	put("sources/receipt.md", "---\nrecord: source\nname: Receipt\nkind: factory-paper\n---\n")
	for f := range d.features {
		put(fmt.Sprintf("features/f%d.md", f), fmt.Sprintf("---\nrecord: feature\nname: %s\nkind: number\nheld: "+d.held+"\nplausible: 0..%d\n---\n", d.features[f], len(scales[f])))
	}
	var claims strings.Builder
	for i, r := range rows {
		for f, x := range r.figures {
			if math.IsNaN(x) {
				continue
			}
			b := bin(scales[f], x)
			fmt.Fprintf(&claims, "  - {id: c%d-%d, spec: f%d, range: %d..%d, span: \"%d~\", cites: [example-%04d]}\n", i, f, f, max(0, b-d.reach), min(len(scales[f]), b+d.reach), r.year, i)
		}
		put(fmt.Sprintf("examples/%04d.md", i), d.example(r, scales))
	}
	put("models/one.md", fmt.Sprintf("---\nrecord: model\nname: One\nmaker: all\nmade: {span: %s, cites: [catalogue]}\nspecs:\n%s---\n", d.years, claims.String()))
	ref, problems, err := schema.ReadFS(folder, d.name)
	if err != nil || len(problems) > 0 {
		t.Fatal(err, problems)
	}
	return ref
}

// example writes a row as an examined example.
func (d *dataset) example(r artefact, scales [][]float64) string {
	var b strings.Builder
	fmt.Fprintf(&b, "---\nrecord: example\nmodel: one\ndocumented: {span: %d, cites: [receipt]}\nobserved:\n", r.year)
	for f, x := range r.figures {
		if !math.IsNaN(x) {
			fmt.Fprintf(&b, "  - {feature: f%d, value: \"%d\"}\n", f, bin(scales[f], x))
		}
	}
	b.WriteString("---\n")
	return b.String()
}

// question asks what a row is by its figures.
func (d *dataset) question(r artefact, scales [][]float64) dating.Question {
	q := dating.Question{Models: []string{"one"}}
	for f, x := range r.figures {
		if !math.IsNaN(x) {
			q.Observed = append(q.Observed, dating.Observation{Feature: fmt.Sprintf("f%d", f), Values: []string{strconv.Itoa(bin(scales[f], x))}})
		}
	}
	return q
}

// score is how well dating did on rows held back.
type score struct {
	held       map[int]float64 // share held by the sets of 50, 90 and 95 %
	loss       float64         // bits
	best, half float64         // mean error in years of the best year and of the middle of the odds
	size       float64         // years in a 90 % set
}

func (d *dataset) score(t *testing.T, train, held []artefact, temper float64) score {
	scales := d.scales(train)
	e := engineOf(t, d.reference(t, train, scales, temper))
	s := score{held: map[int]float64{}}
	n := float64(len(held))
	for _, r := range held {
		a, err := e.Date(d.question(r, scales))
		if err != nil {
			t.Fatal(err)
		}
		for _, level := range []int{50, 90, 95} {
			years := smallest(a.Odds, float64(level)/100)
			if slices.Contains(years, r.year) {
				s.held[level] += 1 / n
			}
			if level == 90 {
				s.size += float64(len(years)) / n
			}
		}
		s.loss += bitsOf(a, r.year) / n
		s.best += math.Abs(float64(a.Best.Year-r.year)) / n
		s.half += math.Abs(float64(middle(a)-r.year)) / n
	}
	return s
}

// smallest takes years by falling chance until they hold the level.
func smallest(list []dating.Odds, level float64) []int {
	var years []int
	for sum, i := 0.0, 0; i < len(list) && sum < level-1e-9; i++ {
		years = append(years, list[i].Year)
		sum += list[i].Chance
	}
	return years
}

func bitsOf(a *dating.Answer, year int) float64 {
	for _, y := range a.Years {
		if y.Year == year {
			return -math.Log2(y.Chance)
		}
	}
	return math.Inf(1)
}

// middle is the year with half of the odds before it.
func middle(a *dating.Answer) int {
	sum := 0.0
	for _, y := range a.Years {
		if sum += y.Chance; sum >= .5 {
			return y.Year
		}
	}
	return 0
}

func TestCars(t *testing.T)     { cars(t).check(t, math.Log2(12)) }
func TestAircraft(t *testing.T) { aircraft(t).check(t, math.Log2(71)) }

// check dates the rows held back and wants what the plan promises of a fitted temper.
func (d *dataset) check(t *testing.T, uniform float64) {
	var train, held []artefact
	for i, r := range d.rows {
		if i%2 == 0 {
			train = append(train, r)
		} else {
			held = append(held, r)
		}
	}
	ref := d.reference(t, train, d.scales(train), 1)
	c, err := calibrate(t, ref)
	if err != nil {
		t.Fatal(err)
	}
	if len(c.Trials) != len(train) || len(c.LeftOut) > 0 {
		t.Fatalf("%d of %d examples were tried, %d left out", len(c.Trials), len(train), len(c.LeftOut))
	}
	t.Logf("%s: %d rows known, %d held back; suggested temper %.2f; made-span guess %.3f bits, uniform %.3f", d.name, len(train), len(held), c.Suggested, c.GuessLogLoss, uniform)
	plain, fitted := d.score(t, train, held, 1), d.score(t, train, held, c.Suggested)
	for i, s := range []score{plain, fitted} {
		t.Logf("temper %.2f: 50/90/95 %% sets hold %.3f/%.3f/%.3f; log loss %.3f bits; mean error %.2f years (best), %.2f (middle); %.1f years in a 90 %% set", []float64{1, c.Suggested}[i], s.held[50], s.held[90], s.held[95], s.loss, s.best, s.half, s.size)
	}
	if math.Abs(c.GuessLogLoss-uniform) > 1e-9 {
		t.Errorf("the made-span guess costs %v bits, a uniform guess %v", c.GuessLogLoss, uniform)
	}
	if plain.held[90] > .80 {
		t.Errorf("at temper 1 the 90 %% sets hold %.3f: the features' dependence does not show", plain.held[90])
	}
	if fitted.held[90] < .87 || fitted.held[90] > .93 {
		t.Errorf("with the fitted temper the 90 %% sets hold %.3f", fitted.held[90])
	}
	if fitted.loss >= uniform || fitted.loss >= plain.loss {
		t.Errorf("with the fitted temper the log loss is %.3f bits; uniform %.3f, temper 1 %.3f", fitted.loss, uniform, plain.loss)
	}
}
