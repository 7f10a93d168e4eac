package dating

import (
	"errors"
	"fmt"
	"slices"

	"yearmark/bench"
	"yearmark/schema"
)

// stampedWeight gives the draw weight that an example's stamp stands for, in
// pounds, where it can be read, is plausible, and no weight that the maker gave it was observed.
func stampedWeight(ref *schema.Reference, ex *schema.Example) (pounds string, ok bool) {
	f, known := ref.Features.Get(schema.DrawWeight)
	if ex.WeightMark.Value == "" || !known || schema.FeatureKind(f.Kind.Value) != schema.Figure || schema.Unit(f.Unit.Value) != schema.Pound {
		return "", false
	}
	if slices.ContainsFunc(ex.Observed, func(o *schema.Observed) bool { return o.Feature.Value == schema.DrawWeight && !o.OwnersWork() }) {
		return "", false
	}
	var by bench.Convention // by its figure alone, where no signs of the maker are known
	if maker := ref.MakerOf(ex); maker != nil {
		by.Before, by.After = maker.WeightMarks.Signs()
	}
	w, err := bench.ReadWeightMark(ex.WeightMark.Value, by)
	if err != nil || f.Plausible.IsZero() || w.Pounds < f.Plausible.Low || w.Pounds > f.Plausible.High {
		return "", false
	}
	return plain(w.Pounds), true
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
		before, after := maker.WeightMarks.Signs()
		w, err := bench.ReadWeightMark(mark, bench.Convention{Before: before, After: after})
		if err != nil {
			unread = err
		} else if !slices.Contains(pounds, w.Pounds) {
			pounds = append(pounds, w.Pounds)
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
