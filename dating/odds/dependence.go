package odds

import (
	"fmt"
	"iter"
	"slices"
)

// Dependence ties features that are not independent under some pairs: what is
// claimed of the dependents holds only where the features given have certain
// outcomes. The outcomes of each feature given are cut into classes; a world is
// one class of each. In the table's rows the features stand as they are when
// nothing else is seen.
type Dependence struct {
	Given      []Cut
	Dependents []Dependent
	Pairs      []Stretch // of the table, rising: under these the dependence holds
}

// Cut is a feature that conditions are about, its row under these pairs, and the
// class of every outcome, as runs that follow one another from outcome 0.
type Cut struct {
	Feature int
	Row     uint32
	Classes int
	ClassOf []Class
}

// Class is a run of outcomes, up to To inclusive, that are of one class.
type Class struct{ To, Class int32 }

// Dependent is a feature whose row depends on the classes of some of those given:
// On names their places in Given. Rows holds a row for each world of these, the
// class of the last of On changing fastest.
type Dependent struct {
	Feature int
	On      []int
	Rows    []uint32
}

// Stretch is the pairs from Start up to but not including End.
type Stretch struct{ Start, End int32 }

// Worlds is the number of worlds.
func (d *Dependence) Worlds() int {
	n := 1
	for i := range d.Given {
		n *= d.Given[i].Classes
	}
	return n
}

// classes gives the class of each feature given in a world, the last changing fastest.
func (d *Dependence) classes(world int, into []int) []int {
	into = slices.Grow(into[:0], len(d.Given))[:len(d.Given)]
	for i := len(d.Given) - 1; i >= 0; i-- {
		into[i] = world % d.Given[i].Classes
		world /= d.Given[i].Classes
	}
	return into
}

// row gives a dependent's row in a world.
func (d *Dependence) row(of *Dependent, classes []int) uint32 {
	at := 0
	for _, g := range of.On {
		at = at*d.Given[g].Classes + classes[g]
	}
	return of.Rows[at]
}

// class gives the class of an outcome.
func (c *Cut) class(outcome int) int {
	i, _ := slices.BinarySearchFunc(c.ClassOf, int32(outcome), func(r Class, o int32) int { return int(r.To - o) })
	return int(c.ClassOf[i].Class)
}

// has says whether the feature is one of those tied.
func (d *Dependence) has(feature int) bool {
	return slices.ContainsFunc(d.Given, func(c Cut) bool { return c.Feature == feature }) ||
		slices.ContainsFunc(d.Dependents, func(f Dependent) bool { return f.Feature == feature })
}

// Chances gives the chance of each class, of all its outcomes or of those that
// rise in only where that is not nil.
func (c *Cut) Chances(r *Row, only []int) []float64 {
	list := make([]float64, c.Classes)
	if only != nil {
		for i := range only {
			list[c.class(only[i])] += r.chance(only[i : i+1])
		}
		return list
	}
	for class, piece := range c.pieces(r) {
		list[class] += float64(float64(piece.To-piece.From+1) * piece.Chance)
	}
	return list
}

// pieces gives a row's outcomes as runs of one class and one chance each.
func (c *Cut) pieces(r *Row) iter.Seq2[int32, Cell] {
	return func(yield func(int32, Cell) bool) {
		from := int32(0)
		runs := r.runs(int(c.ClassOf[len(c.ClassOf)-1].To) + 1)
		for _, run := range c.ClassOf {
			for from <= run.To {
				for runs[0].To < from {
					runs = runs[1:]
				}
				to := min(run.To, runs[0].To)
				if !yield(run.Class, Cell{From: from, To: to, Chance: runs[0].Chance}) {
					return
				}
				from = to + 1
			}
		}
	}
}

// weights gives the chance of every world together with what was seen of the
// features tied, and the sum of all. For a feature given that was seen this is
// s P(seen and c) / P(c) + (1 - s) n / |V| in the class c, for a dependent its
// chance in the world.
func (t *Table) weights(d *Dependence, seen []Seen) (list []float64, sum float64) {
	list = make([]float64, d.Worlds())
	factors := make([][]float64, len(d.Given))
	for i := range d.Given {
		c := &d.Given[i]
		f := &t.Features[c.Feature]
		factors[i] = c.Chances(&f.Rows[c.Row], nil)
		for k := range seen {
			if s := &seen[k]; s.Feature == c.Feature {
				within := c.Chances(&f.Rows[c.Row], s.Outcomes)
				blind := (1 - s.Sure) * float64(len(s.Outcomes)) / float64(f.Outcomes)
				for v := range within {
					factors[i][v] = float64(s.Sure*within[v]) + float64(blind*factors[i][v])
				}
			}
		}
	}
	var classes []int
	for w := range list {
		classes = d.classes(w, classes)
		x := 1.0
		for i, v := range classes {
			x = float64(x * factors[i][v])
		}
		for k := range seen {
			s := &seen[k]
			for i := range d.Dependents {
				if of := &d.Dependents[i]; of.Feature == s.Feature {
					f := &t.Features[of.Feature]
					x = float64(x * s.chance(f, &f.Rows[d.row(of, classes)]))
				}
			}
		}
		list[w] = x
		sum += x
	}
	return list, sum
}

// under gives a feature as it is once something was seen: where it is tied to a
// feature seen, the chances of its outcomes under these pairs follow from that.
func (t *Table) under(feature int, seen []Seen) *Feature {
	f, changed := &t.Features[feature], false
	for i := range t.Dependences {
		d := &t.Dependences[i]
		if !d.has(feature) || !slices.ContainsFunc(seen, func(s Seen) bool { return s.Feature != feature && d.has(s.Feature) }) {
			continue
		}
		row, ok := t.rowUnder(d, feature, seen)
		if !ok {
			continue
		}
		if !changed {
			of := *f
			of.Rows, of.RowOf = slices.Clone(f.Rows), slices.Clone(f.RowOf)
			f, changed = &of, true
		}
		for _, p := range d.Pairs {
			for pair := p.Start; pair < p.End; pair++ {
				f.RowOf[pair] = uint32(len(f.Rows))
			}
		}
		f.Rows = append(f.Rows, row)
	}
	return f
}

// rowUnder is the row of a tied feature once something was seen; ok is false where
// what was seen is excluded. What is possible, taken strictly, it does not say.
// Chances are rounded as by Rank, so that outcomes which are alike but for the
// last rounding are alike here and in the browser.
func (t *Table) rowUnder(d *Dependence, feature int, seen []Seen) (row Row, ok bool) {
	weights, sum := t.weights(d, seen)
	if !(sum > 0) {
		return Row{}, false
	}
	f := &t.Features[feature]
	var parts []Part
	var classes []int
	for i := range d.Dependents {
		of := &d.Dependents[i]
		if of.Feature != feature {
			continue
		}
		for w, x := range weights {
			classes = d.classes(w, classes)
			parts = append(parts, Part{&f.Rows[d.row(of, classes)], x / sum, false})
		}
		row := Mix(parts, f.Outcomes)
		row.Rest = Rank(row.Rest)
		for i := range row.Cells {
			row.Cells[i].Chance = Rank(row.Cells[i].Chance)
		}
		return rowOf(row.runs(f.Outcomes), false), true
	}
	for i := range d.Given {
		c := &d.Given[i]
		if c.Feature != feature {
			continue
		}
		shares := make([]float64, c.Classes)
		for w, x := range weights {
			classes = d.classes(w, classes)
			shares[classes[i]] += x / sum
		}
		return c.scaled(&f.Rows[c.Row], shares), true
	}
	return Row{}, false
}

// scaled gives a row whose classes have these chances, their outcomes in proportion.
func (c *Cut) scaled(r *Row, shares []float64) Row {
	factors := c.Chances(r, nil)
	for v, was := range factors {
		factors[v] = 0
		if was > 0 {
			factors[v] = shares[v] / was
		}
	}
	var runs []Cell
	for class, piece := range c.pieces(r) {
		piece.Chance = Rank(float64(piece.Chance * factors[class]))
		runs = append(runs, piece)
	}
	return rowOf(runs, false)
}

// worldFails gives for every world that can be, taken strictly, the observations
// of the features tied that are not possible in it, as bits by their places in
// seen; and all the bits of these observations.
func (t *Table) worldFails(d *Dependence, seen []Seen) (worlds antichain, all uint64) {
	can := make([][]bool, len(d.Given))
	for i := range d.Given {
		can[i] = d.Given[i].Possible(&t.Features[d.Given[i].Feature].Rows[d.Given[i].Row])
	}
	for k := range seen {
		if d.has(seen[k].Feature) {
			all |= 1 << k
		}
	}
	var classes []int
	for w := range d.Worlds() {
		classes = d.classes(w, classes)
		var mask uint64
		possible := true
		for i, v := range classes {
			possible = possible && can[i][v]
		}
		if !possible {
			continue
		}
		for k := range seen {
			if all&(1<<k) != 0 && !t.allowedIn(d, classes, &seen[k]) {
				mask |= 1 << k
			}
		}
		worlds.add(mask)
	}
	return worlds, all
}

// Possible says of each class whether, taken strictly, one of its outcomes is
// possible under a row; all are where none is.
func (c *Cut) Possible(row *Row) []bool {
	can, some := make([]bool, c.Classes), false
	from := int32(0)
	for _, run := range c.ClassOf {
		for v := from; v <= run.To && !can[run.Class]; v++ {
			can[run.Class] = row.allows([]int{int(v)})
		}
		some = some || can[run.Class]
		from = run.To + 1
	}
	for i := range can {
		can[i] = can[i] || !some
	}
	return can
}

// allowedIn says whether an observation of a tied feature is possible in a world.
func (t *Table) allowedIn(d *Dependence, classes []int, s *Seen) bool {
	f := &t.Features[s.Feature]
	for i := range d.Given {
		if c := &d.Given[i]; c.Feature == s.Feature {
			within := slices.DeleteFunc(slices.Clone(s.Outcomes), func(v int) bool { return c.class(v) != classes[i] })
			return len(within) > 0 && f.Rows[c.Row].allows(within)
		}
	}
	for i := range d.Dependents {
		if of := &d.Dependents[i]; of.Feature == s.Feature {
			return f.Rows[d.row(of, classes)].allows(s.Outcomes)
		}
	}
	return true
}

// validate reports the first thing that makes the dependence none of the table.
func (d *Dependence) validate(t *Table) error {
	for _, c := range d.Given {
		if c.Feature < 0 || c.Feature >= len(t.Features) || int(c.Row) >= len(t.Features[c.Feature].Rows) || c.Classes < 1 {
			return fmt.Errorf("a dependence is given feature %d, row %d", c.Feature, c.Row)
		}
		last := int32(-1)
		for _, run := range c.ClassOf {
			if run.To <= last || run.Class < 0 || int(run.Class) >= c.Classes {
				return fmt.Errorf("a dependence cuts feature %q into no classes", t.Features[c.Feature].ID)
			}
			last = run.To
		}
		if int(last)+1 != t.Features[c.Feature].Outcomes {
			return fmt.Errorf("a dependence leaves outcomes of feature %q without a class", t.Features[c.Feature].ID)
		}
	}
	for _, of := range d.Dependents {
		n := 1
		for _, g := range of.On {
			if g < 0 || g >= len(d.Given) {
				return fmt.Errorf("a dependent feature is on %d of %d", g, len(d.Given))
			}
			n *= d.Given[g].Classes
		}
		if of.Feature < 0 || of.Feature >= len(t.Features) || len(of.Rows) != n {
			return fmt.Errorf("dependent feature %d has %d rows for %d worlds", of.Feature, len(of.Rows), n)
		}
		for _, r := range of.Rows {
			if int(r) >= len(t.Features[of.Feature].Rows) {
				return fmt.Errorf("feature %q names row %d", t.Features[of.Feature].ID, r)
			}
		}
	}
	return nil
}
