package dating

import (
	"cmp"
	"slices"

	"yearmark/schema"
)

// Expectation is a feature that was not looked at yet, and what it should be.
type Expectation struct {
	Feature string `json:"feature"`
	Label   string `json:"label"` // "Padauk or Walnut"

	share float64 // of all outcomes, those that are expected
}

// SecondLook gives, where no question would tell LeastBits any more, what is to
// be seen at a glance and was not observed, with what the claims of
// the likeliest model on record say of it in its 95 % years: the most particular
// first. Published figures are no parts of a bow.
func (a *Answer) SecondLook() []Expectation {
	list := []Expectation{}
	if a.Impossible || slices.ContainsFunc(a.Suggestion, func(s Suggestion) bool { return s.Bits >= LeastBits }) {
		return list
	}
	for i := range a.engine.features {
		f := &a.engine.features[i]
		if a.engine.effort(i) != schema.Glance || f.Kind() == schema.Figure || len(a.observation(f.ID).Values) > 0 {
			continue
		}
		if expected := a.expected(i); len(expected) > 0 {
			list = append(list, Expectation{f.ID, f.Domain.Label(expected), float64(len(expected)) / float64(f.Domain.Size())})
		}
	}
	slices.SortStableFunc(list, func(a, b Expectation) int { return cmp.Compare(a.share, b.share) })
	return list
}

// likeliest gives the likeliest model on record and its years of the 95 % set;
// none where the set holds no model on record.
func (a *Answer) likeliest() ModelYears {
	for _, m := range a.Likely95 {
		if m.Model != "" && (a.Best.Model == "" || m.Model == a.Best.Model) {
			return m
		}
	}
	return ModelYears{}
}

// expected gives the outcomes, rising, that claims of the likeliest model hold in one of its years.
func (a *Answer) expected(feature int) []int {
	bow := a.likeliest()
	model, known := a.engine.ModelAt(bow.Model)
	if !known {
		return nil
	}
	var list []int
	for _, c := range a.engine.ClaimsAbout(model, feature) {
		if slices.ContainsFunc(bow.Years, c.Years.Possible) {
			list = append(list, span(c.First, c.Last)...)
		}
	}
	slices.Sort(list)
	return slices.Compact(list)
}
