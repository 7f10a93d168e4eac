package dating

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"yearmark/bench"
	"yearmark/schema"
)

// StampReading is what a stamped weight stands for, in the years in which it does.
type StampReading struct {
	bench.Weight
	When string // "1958 to 1969"; empty where it reads so always
}

// ReadStamp gives what a stamp stands for by a maker's signs, or by its figure alone
// where none are recorded or there is no maker: one reading, or several where the
// meaning of its sign changed. The error says why it cannot be read.
func ReadStamp(m *schema.Maker, mark string) ([]StampReading, error) {
	readings := []*schema.WeightMarks{nil}
	if m != nil && len(m.WeightMarks) > 0 {
		readings = m.WeightMarks
	}
	var list []StampReading
	var unread error
	differ := false
	for _, by := range readings {
		before, after := by.Signs()
		w, err := bench.ReadWeightMark(mark, bench.Convention{Before: before, After: after})
		if err != nil {
			unread = err
			continue
		}
		read := StampReading{Weight: w}
		if by != nil {
			read.When = by.When()
		}
		list = append(list, read)
		differ = differ || w.Pounds != list[0].Pounds
	}
	switch {
	case len(list) == 0:
		return nil, unread
	case !differ:
		list = list[:1]
		list[0].When = ""
	}
	return list, nil
}

// StampWords says what a stamp stands for: "38 lb at 28 in, up to 1969; 37 lb at
// 28 in, 1970 and onwards".
func StampWords(list []StampReading) string {
	words := make([]string, len(list))
	for i, r := range list {
		if words[i] = reading(r.Weight); r.When != "" {
			words[i] += ", " + r.When
		}
	}
	return strings.Join(words, "; ")
}

// MeasuredWeight gives what the stamps of bows may say that are as heavy as was
// measured on an example, where its maker's bows are known to run over or under
// them: "45..47" of 47 where they ran up to two pounds over. ok is false where
// nobody says so, or something else was observed.
func MeasuredWeight(ref *schema.Reference, ex *schema.Example, o *schema.Observed) (values []string, ok bool) {
	maker, f := ref.MakerOf(ex), (*schema.Feature)(nil)
	if o.Feature.Value == schema.DrawWeight {
		f, _ = ref.Features.Get(schema.DrawWeight)
	}
	if maker == nil || f == nil {
		return nil, false
	}
	var under, over float64
	for _, w := range maker.WeightMarks {
		under, over = min(under, w.Runs.Low), max(over, w.Runs.High)
	}
	if under == 0 && over == 0 {
		return nil, false
	}
	for _, v := range o.Value {
		r, err := schema.ParseRange(v.Value)
		if err != nil {
			return nil, false
		}
		low, high := max(r.Low-over, f.Plausible.Low), min(r.High-under, f.Plausible.High)
		if low > high {
			return nil, false
		}
		values = append(values, plain(low)+".."+plain(high))
	}
	return values, true
}

// stampedWeight gives the draw weights that an example's stamp may stand for, in
// pounds, where it can be read, they are plausible, and no weight that the maker gave it was observed.
func stampedWeight(ref *schema.Reference, ex *schema.Example) (pounds []string, ok bool) {
	f, known := ref.Features.Get(schema.DrawWeight)
	if ex.WeightMark.Value == "" || !known || schema.FeatureKind(f.Kind.Value) != schema.Figure || schema.Unit(f.Unit.Value) != schema.Pound {
		return nil, false
	}
	if slices.ContainsFunc(ex.Observed, func(o *schema.Observed) bool { return o.Feature.Value == schema.DrawWeight && !o.OwnersWork() }) {
		return nil, false
	}
	list, err := ReadStamp(ref.MakerOf(ex), ex.WeightMark.Value)
	if err != nil || f.Plausible.IsZero() {
		return nil, false
	}
	for _, w := range list {
		if w.Pounds < f.Plausible.Low || w.Pounds > f.Plausible.High {
			return nil, false
		}
		if p := plain(w.Pounds); !slices.Contains(pounds, p) {
			pounds = append(pounds, p)
		}
	}
	return pounds, true
}

// readStamps puts in place of a draw weight that is given as it is stamped,
// with a maker's sign, what it stands for: by the makers of the models asked
// about, or of all. Where makers read a sign otherwise it is one of these. The
// error is a *Refusal where nobody is recorded to have used the sign.
func (e *Engine) readStamps(o Observation, models []int) (Observation, error) {
	at, known := e.featureNames.at[o.Feature]
	if !known || e.features[at].ID != schema.DrawWeight {
		return o, nil
	}
	domain := e.features[at].Domain
	read := make([]string, 0, len(o.Values))
	for _, value := range o.Values {
		if _, err := domain.Observed(value); err == nil || !bench.IsWeightMark(value) {
			read = append(read, value)
			continue
		}
		pounds, err := e.standsFor(value, models)
		if err != nil {
			return o, &Refusal{Feature: o.Feature, Value: value, Message: err.Error(), Help: "Give the figure that it stands for, if you know."}
		}
		read = append(read, pounds...)
	}
	o.Values = read
	return o, nil
}

// standsFor gives the weights that a stamp stands for by the makers of models,
// or of all where there are none, rising.
func (e *Engine) standsFor(mark string, models []int) ([]string, error) {
	var pounds []float64
	var unread error
	for _, maker := range e.makersOf(models) {
		list, err := ReadStamp(maker, mark)
		if err != nil {
			unread = err
		}
		for _, w := range list {
			if !slices.Contains(pounds, w.Pounds) {
				pounds = append(pounds, w.Pounds)
			}
		}
	}
	if len(pounds) == 0 && unread == nil {
		_, unread = bench.ReadWeightMark(mark, bench.Convention{})
	}
	slices.Sort(pounds)
	var list []string
	for _, p := range pounds {
		list = append(list, plain(p))
	}
	switch {
	case len(list) > 0:
		unread = nil
	case len(models) == 0 && !errors.Is(unread, bench.ErrBothSides):
		unread = fmt.Errorf("%q bears a sign that no maker is recorded to have used", mark)
	}
	return list, unread
}

// makersOf gives the makers of models, each once, or every maker where there are no models.
func (e *Engine) makersOf(models []int) []*schema.Maker {
	switch {
	case e.ref == nil:
		return nil
	case len(models) == 0:
		return e.ref.Makers.All()
	}
	var list []*schema.Maker
	for _, m := range models {
		maker := e.bows[m].maker
		if model := e.bows[m].model; model != nil {
			maker, _ = e.ref.Makers.Get(model.Maker.Value)
		}
		if maker != nil && !slices.Contains(list, maker) {
			list = append(list, maker)
		}
	}
	return list
}

// Convention is how a maker's stamps read in some years, for the browser.
type Convention struct {
	Before map[string]float64 `json:"before"`
	After  map[string]float64 `json:"after"`
	When   string             `json:"when,omitempty"` // as in a sentence; empty where they read so always
	First  int                `json:"first"`          // of the years in which they may
	Last   int                `json:"last"`
	Runs   string             `json:"runs,omitempty"` // how far bows were from their stamps: "up to 2 lb over"
}

// Conventions gives how a maker's stamps read, in the record's order.
func Conventions(ref *schema.Reference, m *schema.Maker) []Convention {
	var list []Convention
	for _, w := range m.WeightMarks {
		c := Convention{When: w.When(), First: ref.Horizon().First, Last: ref.Horizon().Last, Runs: w.RunsWords()}
		c.Before, c.After = w.Signs()
		if !w.Span.IsZero() {
			years := ref.Years(w.Span)
			c.First, c.Last = years.A, years.D
		}
		list = append(list, c)
	}
	return list
}
