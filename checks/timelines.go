package checks

import (
	"cmp"
	"slices"

	"yearmark/schema"
	"yearmark/schema/edtf"
)

// datedClaim is a claim with the years that the network leaves it.
type datedClaim struct {
	*schema.Claim
	edtf.Years
	lent bool // a maker's claim among those of a model
}

// timeline is all that is claimed of one feature on one model, or by a maker's
// record of all its models. A feature is followed on a model once the model's own
// record has a claim of it; what its maker's record says of it then comes after,
// cut to the years in which the model was made.
type timeline struct {
	model   *schema.Model   // nil of a maker's
	feature *schema.Feature // nil where no such record is there
	dated   []datedClaim    // in the record's order
}

// findTimelines gives the timelines of every model and then of every maker, each
// by feature.
func (s *shared) findTimelines() []timeline {
	var all []timeline
	for _, m := range s.Ref.Models.All() {
		claims := s.Ref.ClaimsOn(m)
		dated := make([]datedClaim, len(claims))
		for i, c := range claims {
			dated[i] = datedClaim{c, s.Timeline.YearsOn(c, m), c.Maker != nil}
		}
		all = s.appendTimelines(all, m, dated)
	}
	for _, m := range s.Ref.Makers.All() {
		var dated []datedClaim
		for _, c := range slices.Concat(m.Features, m.Specs) {
			dated = append(dated, datedClaim{c, s.yearsOf(c), false})
		}
		all = s.appendTimelines(all, nil, dated)
	}
	return all
}

// appendTimelines parts the claims of a model or a maker by feature. What is only
// lent to a model is no timeline of it.
func (s *shared) appendTimelines(all []timeline, m *schema.Model, dated []datedClaim) []timeline {
	slices.SortStableFunc(dated, func(a, b datedClaim) int { return cmp.Compare(a.FeatureID(), b.FeatureID()) })
	for first := 0; first < len(dated); {
		id, after := dated[first].FeatureID(), first+1
		for after < len(dated) && dated[after].FeatureID() == id {
			after++
		}
		if !dated[first].lent {
			feature, _ := s.Ref.Features.Get(id)
			all = append(all, timeline{model: m, feature: feature, dated: dated[first:after:after]})
		}
		first = after
	}
	return all
}

// changeover is how many years two values of a feature may share at a change.
func (s *shared) changeover(f *schema.Feature) int {
	if f != nil && f.Changeover != nil {
		return f.Changeover.Value
	}
	return s.Ref.Settings.Judgement.Changeover.Value
}
