package checks

import (
	"cmp"
	"slices"

	"yearmark/schema"
	"yearmark/schema/edtf"
)

// life is a claim with the years that the network leaves it.
type life struct {
	*schema.Claim
	edtf.Years
}

// track is all that one model's record claims of one feature. A feature is
// tracked on a model once the record has a claim of it.
type track struct {
	model   *schema.Model
	feature *schema.Feature // nil where no such record is there
	lives   []life          // in the record's order
}

// findTracks gives the tracks of every model: by model, then by feature.
func (s *shared) findTracks() []track {
	var all []track
	for _, m := range s.Ref.Models.All() {
		lives := make([]life, 0, len(m.Features)+len(m.Specs))
		for _, list := range [][]*schema.Claim{m.Features, m.Specs} {
			for _, c := range list {
				lives = append(lives, life{c, s.yearsOf(c)})
			}
		}
		slices.SortStableFunc(lives, func(a, b life) int { return cmp.Compare(a.FeatureID(), b.FeatureID()) })
		for first := 0; first < len(lives); {
			id, after := lives[first].FeatureID(), first+1
			for after < len(lives) && lives[after].FeatureID() == id {
				after++
			}
			feature, _ := s.Ref.Features.Get(id)
			all = append(all, track{model: m, feature: feature, lives: lives[first:after:after]})
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
