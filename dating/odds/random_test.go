package odds_test

import (
	"cmp"
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"yearmark/dating/odds"
)

// drawTable draws a table of up to three models, four features and five
// outcomes, with rows shared as the records make them.
func drawTable(t *rapid.T) *odds.Table {
	table := &odds.Table{Temper: rapid.SampledFrom([]float64{1, 1, .5, .33}).Draw(t, "temper")}
	for m := range rapid.IntRange(1, 3).Draw(t, "models") {
		start := len(table.Years)
		for y := range rapid.IntRange(1, 6).Draw(t, "years") {
			table.Years = append(table.Years, int32(1950+y))
			table.Prior = append(table.Prior, float64(rapid.IntRange(1, 9).Draw(t, "prior"))/10)
		}
		table.Models = append(table.Models, odds.Model{ID: string(rune('a' + m)), Start: start, End: len(table.Years)})
	}
	for f := range rapid.IntRange(1, 4).Draw(t, "features") {
		table.Features = append(table.Features, drawFeature(t, string(rune('p'+f)), len(table.Years)))
	}
	return table
}

func drawFeature(t *rapid.T, id string, pairs int) odds.Feature {
	f := odds.Feature{ID: id, Outcomes: rapid.IntRange(2, 5).Draw(t, "outcomes")}
	for range rapid.IntRange(1, 4).Draw(t, "rows") {
		f.Rows = append(f.Rows, drawRow(t, f.Outcomes))
	}
	for range pairs {
		f.RowOf = append(f.RowOf, uint32(rapid.IntRange(0, len(f.Rows)-1).Draw(t, "row")))
	}
	return f
}

func drawRow(t *rapid.T, outcomes int) odds.Row {
	weights := rapid.SliceOfN(rapid.IntRange(0, 9), outcomes, outcomes).Draw(t, "weights")
	sum := 0
	for _, w := range weights {
		sum += w
	}
	if sum == 0 {
		return odds.Row{Rest: 1 / float64(outcomes), Silent: true}
	}
	rest := slices.Min(weights)
	row := odds.Row{Rest: float64(rest) / float64(sum)}
	for v, w := range weights {
		if w > rest {
			row.Cells = append(row.Cells, odds.Cell{From: int32(v), To: int32(v), Chance: float64(w) / float64(sum), Possible: rapid.Bool().Draw(t, "possible")})
		}
	}
	return row
}

// drawQuery draws observations of some of the table's features.
func drawQuery(t *rapid.T, table *odds.Table) odds.Query {
	var q odds.Query
	if rapid.Bool().Draw(t, "one model") {
		q.Models = []int{rapid.IntRange(0, len(table.Models)-1).Draw(t, "model")}
	}
	for f := range table.Features {
		if !rapid.Bool().Draw(t, "seen") {
			continue
		}
		s := odds.Seen{Feature: f, Sure: rapid.SampledFrom([]float64{1, .98, .85, .6}).Draw(t, "sure")}
		for v := range table.Features[f].Outcomes {
			if len(s.Outcomes) == 0 || rapid.IntRange(0, 3).Draw(t, "also") == 0 {
				s.Outcomes = append(s.Outcomes, v)
			}
		}
		q.Seen = append(q.Seen, s)
	}
	return q
}

// chanceOf looks an outcome's chance up the long way.
func chanceOf(f *odds.Feature, pair, outcome int) float64 {
	row := f.Rows[f.RowOf[pair]]
	for _, c := range row.Cells {
		if int(c.From) <= outcome && outcome <= int(c.To) {
			return c.Chance
		}
	}
	return row.Rest
}

// admitted lists the pairs that a query admits.
func admitted(t *odds.Table, q odds.Query) []int {
	var list []int
	for m, model := range t.Models {
		if q.Models == nil || slices.Contains(q.Models, m) {
			for h := model.Start; h < model.End; h++ {
				list = append(list, h)
			}
		}
	}
	return list
}

// likelihood is the plain product of the formulas, without logarithms.
func likelihood(t *odds.Table, seen []odds.Seen, pair int) float64 {
	product := 1.0
	for _, s := range seen {
		f := &t.Features[s.Feature]
		sum := 0.0
		for _, v := range s.Outcomes {
			sum += chanceOf(f, pair, v)
		}
		product *= s.Sure*sum + (1-s.Sure)*float64(len(s.Outcomes))/float64(f.Outcomes)
	}
	return math.Pow(product, t.Temper)
}

// plainPosterior is the posterior by the definition.
func plainPosterior(t *odds.Table, q odds.Query) []float64 {
	var p []float64
	sum := 0.0
	for _, h := range admitted(t, q) {
		x := t.Prior[h] * likelihood(t, q.Seen, h)
		p = append(p, x)
		sum += x
	}
	for i := range p {
		p[i] /= sum
	}
	return p
}

func bits(p []float64) float64 {
	sum := 0.0
	for _, x := range p {
		if x > 0 {
			sum -= x * math.Log2(x)
		}
	}
	return sum
}

func near(a, b float64) bool { return math.Abs(a-b) <= 1e-11 }

func TestPosteriorIsTheDefinition(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		table := drawTable(t)
		if err := table.Validate(); err != nil {
			t.Fatal(err)
		}
		q := drawQuery(t, table)
		p := table.Posterior(q)
		plain := plainPosterior(table, q)
		if math.IsNaN(plain[0]) {
			if !p.Impossible {
				t.Fatal("everything is excluded, and yet odds are given")
			}
			return
		}
		sum := 0.0
		for i := range plain {
			if !near(p.Chance[i], plain[i]) {
				t.Fatalf("pair %d: chance %v, by the definition %v", i, p.Chance[i], plain[i])
			}
			if (plain[i] == 0) != (p.Chance[i] == 0) {
				t.Fatalf("pair %d: 0 is not exactly where the formulas give 0", i)
			}
			sum += p.Chance[i]
		}
		if !near(sum, 1) || !near(p.Entropy, bits(plain)) {
			t.Fatalf("odds sum to %v, entropy %v, want 1 and %v", sum, p.Entropy, bits(plain))
		}
	})
}

func TestGainIsTheExpectedFallOfEntropy(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		table := drawTable(t)
		q := drawQuery(t, table)
		p := table.Posterior(q)
		if p.Impossible {
			return
		}
		pairs := admitted(table, q)
		for f := range table.Features {
			after := 0.0
			for v := range table.Features[f].Outcomes {
				chance, sum := 0.0, 0.0
				next := make([]float64, len(pairs))
				for i, h := range pairs {
					c := chanceOf(&table.Features[f], h, v)
					chance += p.Chance[i] * c
					next[i] = p.Chance[i] * math.Pow(c, table.Temper)
					sum += next[i]
				}
				if sum == 0 {
					continue
				}
				for i := range next {
					next[i] /= sum
				}
				after += chance * bits(next)
			}
			gain := p.Gain(f)
			if math.Abs(gain-(p.Entropy-after)) > 1e-9 {
				t.Fatalf("feature %d: gain %v, by the definition %v", f, gain, p.Entropy-after)
			}
			if table.Temper == 1 && gain < 0 {
				t.Fatalf("feature %d: a look is expected to lose %v bits", f, gain)
			}
		}
	})
}

func TestOutcomesMakeUpTheGain(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		table := drawTable(t)
		p := table.Posterior(drawQuery(t, table))
		if p.Impossible {
			return
		}
		for f := range table.Features {
			chance, after := 0.0, 0.0
			for _, o := range p.Outcomes(f, 100) {
				chance += o.Chance
				after += o.Chance * o.After.Entropy
				if math.Abs(bits(o.After.Chance)-o.After.Entropy) > 1e-9 {
					t.Fatalf("outcome %v leaves %v bits, by its chances %v", o.Outcomes, o.After.Entropy, bits(o.After.Chance))
				}
				if again := o.After.Gain(f); table.Temper == 1 && again > o.After.Entropy+1e-9 {
					t.Fatalf("a second look tells %v of %v bits", again, o.After.Entropy)
				}
			}
			if math.Abs(chance-1) > 1e-5 {
				t.Fatalf("outcomes of feature %d sum to %v", f, chance)
			}
			if math.Abs(p.Entropy-after-p.Gain(f)) > 1e-4 {
				t.Fatalf("feature %d: outcomes leave %v of %v bits, gain %v", f, after, p.Entropy, p.Gain(f))
			}
		}
	})
}

func TestSmallestSetIsTheSmallest(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		table := drawTable(t)
		p := table.Posterior(drawQuery(t, table))
		if p.Impossible {
			return
		}
		for _, level := range []float64{0, .5, .9, .95, 1} {
			order := make([]int, 0, len(p.Chance))
			for i, c := range p.Chance {
				if c > 0 {
					order = append(order, i)
				}
			}
			slices.SortStableFunc(order, func(a, b int) int {
				return cmp.Compare(odds.Rank(p.Chance[b]), odds.Rank(p.Chance[a]))
			})
			var want []int
			sum := 0.0
			for _, i := range order {
				if sum >= level-1e-9 && (len(want) == 0 || p.Chance[i] < p.Chance[want[len(want)-1]]-1e-9) {
					break
				}
				want = append(want, i)
				sum += p.Chance[i]
			}
			slices.Sort(want)
			if got := p.Smallest(level); !slices.Equal(got, want) {
				t.Fatalf("%v of the odds: %v, want %v", level, got, want)
			}
		}
	})
}

func TestStrictIsTheDefinition(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		table := drawTable(t)
		q := drawQuery(t, table)
		s := table.Strict(q)
		if want := sharedBy(table, q, all(q)); !slices.Equal(s.Left, want) {
			t.Fatalf("left %v, want %v", s.Left, want)
		}
		if len(s.Left) > 0 {
			if s.Conflicts != nil || s.Without != nil {
				t.Fatal("pairs are left and yet conflicts are named")
			}
			return
		}
		for i := range q.Seen {
			if want := sharedBy(table, q, all(q)&^(1<<i)); !slices.Equal(s.Without[i], want) {
				t.Fatalf("without %d: %v, want %v", i, s.Without[i], want)
			}
		}
		if want := plainConflicts(table, q); !slices.EqualFunc(sorted(s.Conflicts), want, slices.Equal) {
			t.Fatalf("conflicts %v, want %v", s.Conflicts, want)
		}
	})
}

func all(q odds.Query) uint { return 1<<len(q.Seen) - 1 }

// sharedBy gives the pairs under which every observation of the set is possible.
func sharedBy(t *odds.Table, q odds.Query, set uint) []int {
	var list []int
	for _, h := range admitted(t, q) {
		ok := true
		for i, s := range q.Seen {
			if set>>i&1 == 1 && !possible(&t.Features[s.Feature], h, s.Outcomes) {
				ok = false
			}
		}
		if ok {
			list = append(list, h)
		}
	}
	return list
}

func possible(f *odds.Feature, pair int, outcomes []int) bool {
	row := f.Rows[f.RowOf[pair]]
	return row.Silent || slices.ContainsFunc(row.Cells, func(c odds.Cell) bool {
		return c.Possible && slices.ContainsFunc(outcomes, func(v int) bool { return int(c.From) <= v && v <= int(c.To) })
	})
}

// plainConflicts tries every set of observations.
func plainConflicts(t *odds.Table, q odds.Query) [][]int {
	var minimal []uint
	var list [][]int
	for set := range all(q) + 1 {
		if len(sharedBy(t, q, set)) > 0 || slices.ContainsFunc(minimal, func(m uint) bool { return m&set == m }) {
			continue
		}
		minimal = append(minimal, set)
	}
	for _, m := range minimal {
		if slices.ContainsFunc(minimal, func(o uint) bool { return o != m && o&m == o }) {
			continue
		}
		var members []int
		for i := range q.Seen {
			if m>>i&1 == 1 {
				members = append(members, i)
			}
		}
		list = append(list, members)
	}
	return sorted(list)
}

func sorted(sets [][]int) [][]int {
	sets = slices.Clone(sets)
	slices.SortFunc(sets, func(a, b []int) int {
		if len(a) != len(b) {
			return len(a) - len(b)
		}
		return slices.Compare(a, b)
	})
	return sets
}

func TestNeutralFeatureChangesNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		table := drawTable(t)
		q := drawQuery(t, table)
		before := table.Posterior(q)
		neutral := drawRow(t, 3)
		table.Features = append(table.Features, odds.Feature{ID: "z", Outcomes: 3, Rows: []odds.Row{neutral}, RowOf: make([]uint32, table.Pairs())})
		last := len(table.Features) - 1
		if g := before.Gain(last); g != 0 && !before.Impossible {
			t.Fatalf("a feature that is alike everywhere is said to tell %v bits", g)
		}
		q.Seen = append(q.Seen, odds.Seen{Feature: last, Outcomes: []int{0}, Sure: .85})
		after := table.Posterior(q)
		for i := range before.Chance {
			if !near(before.Chance[i], after.Chance[i]) {
				t.Fatalf("pair %d moved from %v to %v", i, before.Chance[i], after.Chance[i])
			}
		}
	})
}

func TestUpdatesAddUp(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		table := drawTable(t)
		q := drawQuery(t, table)
		q.Models = nil
		together := table.Posterior(q)
		if together.Impossible {
			return
		}
		order := rapid.Permutation(q.Seen).Draw(t, "order")
		step := *table
		for _, s := range order {
			step.Prior = step.Posterior(odds.Query{Seen: []odds.Seen{s}}).Chance
		}
		oneByOne := step.Posterior(odds.Query{}).Chance
		for i, c := range together.Chance {
			if !near(c, oneByOne[i]) {
				t.Fatalf("pair %d: %v at once, %v one by one", i, c, oneByOne[i])
			}
		}
	})
}

func TestOrder(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		table := drawTable(t)
		p := table.Posterior(drawQuery(t, table))
		order := p.Order(1e-12)
		for k, i := range order {
			if k == 0 {
				continue
			}
			if before := order[k-1]; odds.Rank(p.Chance[before]) < odds.Rank(p.Chance[i]) || odds.Rank(p.Chance[before]) == odds.Rank(p.Chance[i]) && before > i {
				t.Fatalf("%d stands before %d: %v", before, i, p.Chance)
			}
		}
		likely := 0
		for _, c := range p.Chance {
			if c > 1e-12 {
				likely++
			}
		}
		if len(order) != likely {
			t.Fatalf("%d pairs in order, %d likelier than 1e-12", len(order), likely)
		}
		if !p.Impossible && order[0] != p.Best() {
			t.Fatalf("the first is %d and the best %d", order[0], p.Best())
		}
	})
}
