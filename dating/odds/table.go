// Package odds is the arithmetic of dating: which of many pairs of model and
// year a set of observations speaks for, and what to look at next. It knows
// tables of chances and nothing of records; package dating fills the tables.
// The same functions exist in site/assets/js/dating, and both are held to
// the same vectors.
//
// All of it is pure: no file, clock, randomness or log, and a Table may be
// asked from many goroutines at once. Products are converted (float64(a * b))
// before they meet a sum, which keeps every kind of machine from fusing the two:
// the same table gives the same figures everywhere, in the browser too.
package odds

import (
	"errors"
	"fmt"
	"math"
)

// Table is what is known, in numbers: the pairs of model and year that a bow
// can be, how likely each is before anything was seen, and for each feature
// the chance of every outcome under every pair.
type Table struct {
	// Models lists the models; their pairs follow one another in this order.
	Models []Model
	// Years and Prior hold one entry for each pair, by rising year within a
	// model. Prior need not sum to 1; it is never negative.
	Years []int32
	Prior []float64
	// Features are the features that can be seen.
	Features []Feature
	// Dependences tie features that are not independent under some pairs.
	Dependences []Dependence
	// Temper is the power, above 0 and at most 1, on the joint likelihood.
	Temper float64
}

// Model is one model's stretch of the pairs: from Start up to but not including
// End. Without an ID it stands for models that are not on record; those come
// last and take no part in the strict answer.
type Model struct {
	ID         string
	Maker      string // of a model without an ID: whose models, or empty for those of makers not on record
	Start, End int
}

// Feature is one feature's chances. Many pairs share a row, so a row is kept
// once and RowOf says for each pair which is its.
type Feature struct {
	ID       string
	Outcomes int // how many values there are, |V|
	Rows     []Row
	RowOf    []uint32
}

// Row is the chance of every outcome under a pair: that of its cells, and
// Rest for every outcome that no cell holds. Rest is never above a cell's
// chance, which keeps sums over rows free of cancellation.
type Row struct {
	Rest  float64
	Cells []Cell // by rising outcome, never overlapping
	// Silent says that nobody speaks for the feature under this pair: taken
	// strictly, every outcome is possible.
	Silent bool
}

// Cell is a run of outcomes, From to To inclusive, that share a chance.
type Cell struct {
	From, To int32
	Chance   float64 // of each of the outcomes
	Possible bool    // taken strictly: some statement holds the outcomes possible
}

// Pairs is the number of pairs of model and year.
func (t *Table) Pairs() int { return len(t.Years) }

// recorded is the number of pairs of models on record, which come first.
func (t *Table) recorded() int {
	for i := len(t.Models) - 1; i >= 0; i-- {
		if t.Models[i].ID != "" {
			return t.Models[i].End
		}
	}
	return 0
}

// ModelOf gives the index of the model that a pair belongs to.
func (t *Table) ModelOf(pair int) int {
	low, high := 0, len(t.Models)
	for high-low > 1 {
		if mid := (low + high) / 2; t.Models[mid].Start <= pair {
			low = mid
		} else {
			high = mid
		}
	}
	return low
}

// Validate reports the first thing that makes the table no table of chances:
// stretches that do not follow one another, a negative or unordered prior, a
// row whose chances do not sum to 1 within 1e-9, a temper outside its bounds.
func (t *Table) Validate() error {
	if len(t.Prior) != len(t.Years) {
		return errors.New("the table has not one prior for each pair")
	}
	if !(t.Temper > 0 && t.Temper <= 1) {
		return fmt.Errorf("temper %v is not above 0 and at most 1", t.Temper)
	}
	at, recorded := 0, true
	for _, m := range t.Models {
		if recorded = recorded && m.ID != ""; !recorded && m.ID != "" {
			return fmt.Errorf("model %q comes after those that are not on record", m.ID)
		}
		if m.Start != at || m.End < m.Start || m.End > len(t.Years) {
			return fmt.Errorf("model %q does not follow the one before it", m.ID)
		}
		at = m.End
	}
	if at != len(t.Years) {
		return errors.New("some pairs belong to no model")
	}
	for i, p := range t.Prior {
		if !(p >= 0) || math.IsInf(p, 0) {
			return fmt.Errorf("pair %d has prior %v", i, p)
		}
	}
	for i := range t.Features {
		if err := t.Features[i].validate(len(t.Years)); err != nil {
			return err
		}
	}
	for i := range t.Dependences {
		if err := t.Dependences[i].validate(t); err != nil {
			return err
		}
	}
	return nil
}

func (f *Feature) validate(pairs int) error {
	if f.Outcomes < 1 || len(f.RowOf) != pairs {
		return fmt.Errorf("feature %q has not one row for each pair, or no outcome", f.ID)
	}
	for _, r := range f.RowOf {
		if int(r) >= len(f.Rows) {
			return fmt.Errorf("feature %q names row %d of %d", f.ID, r, len(f.Rows))
		}
	}
	for i := range f.Rows {
		if err := f.Rows[i].validate(f.Outcomes); err != nil {
			return fmt.Errorf("feature %q, row %d: %w", f.ID, i, err)
		}
	}
	return nil
}

func (r *Row) validate(outcomes int) error {
	sum, next := 0.0, int32(0)
	held := 0
	for _, c := range r.Cells {
		if c.From < next || c.To < c.From || int(c.To) >= outcomes {
			return fmt.Errorf("cell %d..%d is out of order or beyond the outcomes", c.From, c.To)
		}
		if !(c.Chance >= r.Rest) {
			return fmt.Errorf("chance %v lies below the rest's %v", c.Chance, r.Rest)
		}
		n := int(c.To - c.From + 1)
		sum += float64(float64(n) * c.Chance)
		held += n
		next = c.To + 1
	}
	sum += float64(float64(outcomes-held) * r.Rest)
	if !(r.Rest >= 0) || !(math.Abs(sum-1) <= 1e-9) {
		return fmt.Errorf("chances sum to %v", sum)
	}
	return nil
}

// chance sums the chances of the outcomes, which rise without repeats.
func (r *Row) chance(outcomes []int) float64 {
	sum, i := 0.0, 0
	for _, v := range outcomes {
		for i < len(r.Cells) && int(r.Cells[i].To) < v {
			i++
		}
		if i < len(r.Cells) && int(r.Cells[i].From) <= v {
			sum += r.Cells[i].Chance
		} else {
			sum += r.Rest
		}
	}
	return sum
}

// allows says whether, taken strictly, one of the outcomes is possible.
func (r *Row) allows(outcomes []int) bool {
	if r.Silent {
		return true
	}
	i := 0
	for _, v := range outcomes {
		for i < len(r.Cells) && int(r.Cells[i].To) < v {
			i++
		}
		if i < len(r.Cells) && int(r.Cells[i].From) <= v && r.Cells[i].Possible {
			return true
		}
	}
	return false
}
