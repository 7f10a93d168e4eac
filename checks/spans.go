package checks

import (
	"yearmark/schema"
	"yearmark/schema/edtf"
)

// yearsOf gives a claim's years, tightened by all that bears on them.
func (s *shared) yearsOf(c *schema.Claim) edtf.Years { return s.Timeline.Years(c) }

// statedYears gives a claim's years as its record states them.
func (s *shared) statedYears(c *schema.Claim) edtf.Years { return s.Timeline.Stated(c) }
