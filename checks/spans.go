package checks

import (
	"yearmark/schema"
	"yearmark/schema/edtf"
)

// yearsOf gives a claim's years, tightened by all that bears on them.
func (s *shared) yearsOf(c *schema.Claim) edtf.Years { return s.Timeline.Years(c) }

// statedYears gives a claim's years as its record states them.
func (s *shared) statedYears(c *schema.Claim) edtf.Years { return s.Timeline.Stated(c) }

// statedOf gives those of a claim among a model's: where it is the maker's, what
// lies within the years in which the model was made.
func (s *shared) statedOf(c datedClaim, m *schema.Model) edtf.Years {
	y := s.statedYears(c.Claim)
	if !c.lent {
		return y
	}
	made := s.Timeline.Made(m)
	return y.Cut(edtf.Range{First: made.A, Last: made.D})
}
