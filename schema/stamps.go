package schema

import (
	"fmt"
	"math"
	"reflect"
	"slices"
	"strconv"

	"go.yaml.in/yaml/v3"
)

// When says in which years stamps read so, within a sentence: "1958 to 1969"; empty
// where nobody limits them.
func (w *WeightMarks) When() string {
	if w.Span.IsZero() {
		return ""
	}
	return w.Span.Words()
}

// RunsWords says how far bows were from their stamps: "up to 2 lb over"; empty
// where nobody says.
func (w *WeightMarks) RunsWords() string {
	r := w.Runs
	pounds := func(v float64) string { return strconv.FormatFloat(math.Abs(v), 'f', -1, 64) }
	switch {
	case r.IsZero():
		return ""
	case r.Low == 0:
		return "up to " + pounds(r.High) + " lb over"
	case r.High == 0:
		return "up to " + pounds(r.Low) + " lb under"
	case r.Low < 0 && r.High > 0:
		return "from " + pounds(r.Low) + " lb under to " + pounds(r.High) + " lb over"
	case r.Low < 0:
		return pounds(r.High) + " to " + pounds(r.Low) + " lb under"
	}
	return pounds(r.Low) + " to " + pounds(r.High) + " lb over"
}

// readWeightMarks reads a list of readings, or one that stands without a list.
func readWeightMarks(d *decoder, n *yaml.Node, k *key, to reflect.Value) bool {
	if n.Kind != yaml.MappingNode {
		return listReader(reflect.TypeFor[*WeightMarks]())(d, n, k, to)
	}
	one := &WeightMarks{}
	ok := readStruct(d, n, k, reflect.ValueOf(one).Elem())
	to.Set(reflect.ValueOf([]*WeightMarks{one}))
	return ok
}

// weightMarks wants readings that are parted by years, and pounds.
func (d *decoder) weightMarks(list []*WeightMarks) {
	for i, w := range list {
		if r := w.Runs; !r.IsZero() && r.Unit != Pound {
			d.report(CheckWrongUnit, r.Pos, fmt.Sprintf("%q does not say pounds", r.Written), "Write how far over or under in lb, as in 0..2 lb.")
		}
		if len(list) < 2 || d.unread(w.Pos, "span") {
			continue
		}
		if w.Span.IsZero() {
			d.report(CheckMissingKey, w.Pos, "one of several readings of weight marks has no years", "Add span: with the years in which stamps read so, as in ../1962 and 1963/.. .")
			continue
		}
		if j := slices.IndexFunc(list[:i], func(other *WeightMarks) bool { return !other.Span.IsZero() && share(other.Span, w.Span) }); j >= 0 {
			d.report(CheckTwoSpans, w.Span.Pos, "two readings of weight marks share years", "Let each end before the next begins, as in ../1962 and 1963/.. .", Place{list[j].Span.Pos, "the other is here"})
		}
	}
}

// share says that two spans as written have a year in common; one without an end
// goes on, one without a beginning was always so.
func share(a, b Span) bool {
	ends := func(s Span) (first, last int) {
		first, known := s.Earliest()
		if !known {
			first = math.MinInt
		}
		if last, known = s.Latest(); !known {
			last = math.MaxInt
		}
		return first, last
	}
	first, last := ends(a)
	second, end := ends(b)
	return first <= end && second <= last
}
