package checks

import (
	"cmp"
	"slices"

	"yearmark/schema"
	"yearmark/schema/edtf"
)

// life is a claim with the years that the network leaves it.
type datedClaim struct {
	*schema.Claim
	edtf.Years
}

// timeline is all that one model's record claims of one feature. A feature is
// followed on a model once the record has a claim of it.
type timeline struct {
	model   *schema.Model
	feature *schema.Feature // nil where no such record is there
	dated   []datedClaim    // in the record's order
}

// findTimelines gives the timelines of every model: by model, then by feature.
func (s *shared) findTimelines() []timeline {
	var all []timeline
	for _, m := range s.Ref.Models.All() {
		dated := make([]datedClaim, 0, len(m.Features)+len(m.Specs))
		for _, list := range [][]*schema.Claim{m.Features, m.Specs} {
			for _, c := range list {
				dated = append(dated, datedClaim{c, s.yearsOf(c)})
			}
		}
		slices.SortStableFunc(dated, func(a, b datedClaim) int { return cmp.Compare(a.FeatureID(), b.FeatureID()) })
		for first := 0; first < len(dated); {
			id, after := dated[first].FeatureID(), first+1
			for after < len(dated) && dated[after].FeatureID() == id {
				after++
			}
			feature, _ := s.Ref.Features.Get(id)
			all = append(all, timeline{model: m, feature: feature, dated: dated[first:after:after]})
			first = after
		}
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
