package dating

import (
	"slices"
	"strconv"

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
	return strconv.FormatFloat(w.Pounds, 'f', -1, 64), true
}
