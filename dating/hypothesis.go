package dating

import (
	"yearmark/dating/odds"
	"yearmark/schema"
	"yearmark/schema/edtf"
)

// hypothesis is what a bow can be: a model on record, another model of a maker
// on record (without a model), or one by a maker who is not on record (without
// both).
type hypothesis struct {
	model *schema.Model
	maker *schema.Maker
}

// hypothesesOf gives all that a bow can be: the models by identifier, then, where
// the editor gives a chance to what is not on record, another model of each
// maker by identifier, and a maker not on record.
func hypothesesOf(ref *schema.Reference) []hypothesis {
	list := make([]hypothesis, 0, ref.Models.Len()+ref.Makers.Len()+1)
	for _, m := range ref.Models.All() {
		list = append(list, hypothesis{model: m})
	}
	if unrecorded(ref) == 0 {
		return list
	}
	for _, m := range ref.Makers.All() {
		list = append(list, hypothesis{maker: m})
	}
	return append(list, hypothesis{})
}

// unrecorded is the editor's chance that a bow is of no model on record.
func unrecorded(ref *schema.Reference) float64 {
	return within(ref.Settings.Judgement.Unrecorded.Value)
}

// claims gives what the records say of the features of such a bow.
func (h hypothesis) claims(ref *schema.Reference) []*schema.Claim {
	switch {
	case h.model != nil:
		return ref.ClaimsOn(h.model)
	case h.maker != nil:
		return append(h.maker.Features[:len(h.maker.Features):len(h.maker.Features)], h.maker.Specs...)
	}
	return nil
}

// years gives those of a claim on such a bow.
func (h hypothesis) years(c *schema.Claim, in inputs) edtf.Years {
	if h.model != nil {
		return in.times.YearsOn(c, h.model)
	}
	return in.times.Years(c)
}

// prior gives the years in which such a bow can have been made, and the chance
// of each before anything is seen. Models on record are alike, and so is what is
// not on record.
func (h hypothesis) prior(in inputs) (years []int32, chance []float64) {
	share := unrecorded(in.ref) / float64(in.ref.Makers.Len()+1)
	switch {
	case h.model != nil:
		made := in.times.Made(h.model)
		years, chance = Prior(made, outputs(in.ref, h.model, made))
		share = (1 - unrecorded(in.ref)) / float64(in.ref.Models.Len())
	case h.maker != nil:
		years, chance = Prior(in.times.Trading(h.maker), nil)
	default:
		years, chance = Prior(edtf.OverRange(in.ref.Horizon()), nil)
	}
	for i := range chance {
		chance[i] = float64(chance[i] * share)
	}
	return years, chance
}

// named gives the names of the hypothesis in a table.
func (h hypothesis) named() odds.Model {
	switch {
	case h.model != nil:
		return odds.Model{ID: h.model.ID}
	case h.maker != nil:
		return odds.Model{Maker: h.maker.ID}
	}
	return odds.Model{}
}

// BowName names for people what an answer calls by a model or, where that is
// empty, by the maker of a model that is not on record: "Plover", "another model
// of Halvane Archery", "a bow by a maker not on record". What ref does not know
// is named by its identifier; ref may be nil.
func BowName(ref *schema.Reference, model, maker string) string {
	if ref != nil {
		if m, known := ref.Models.Get(model); known {
			return m.Title()
		}
		if m, known := ref.Makers.Get(maker); known {
			maker = m.Title()
		}
	}
	switch {
	case model != "":
		return model
	case maker != "":
		return "another model of " + maker
	}
	return "a bow by a maker not on record"
}
