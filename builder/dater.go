package builder

import (
	"slices"

	"yearmark/checks"
	"yearmark/dating"
	"yearmark/schema"
)

// exampleDater tells the checks what dating makes of an example: the two are peers
// that do not know of each other.
type exampleDater struct {
	loo    *dating.LeaveOneOut
	chosen func(*schema.Example) bool         // which are dated; nil for all
	trials func() (dating.Calibration, error) // nil: the temper is not tried
}

// Temper is the temper that the trials speak clearly for, or 0.
func (d exampleDater) Temper() float64 {
	if d.trials == nil {
		return 0
	}
	if c, err := d.trials(); err == nil && c.Clear {
		return c.Suggested
	}
	return 0
}

// Date dates the example from its features alone, without what rests on it.
func (d exampleDater) Date(e *schema.Example) checks.ExampleVerdict {
	if d.chosen != nil && !d.chosen(e) {
		return checks.ExampleVerdict{}
	}
	answer, err := d.loo.Brief(e)
	if err != nil || answer.Observed == 0 || answer.Impossible {
		return checks.ExampleVerdict{}
	}
	return checks.ExampleVerdict{
		Dated: true, Years: yearsOf(answer.Strict.Years),
		Conflicts: answer.Strict.Conflicts, Likely: yearsOf(answer.Likely95),
	}
}

// yearsOf gives the years of all models together, rising.
func yearsOf(sets []dating.ModelYears) []int {
	var years []int
	for _, s := range sets {
		years = append(years, s.Years...)
	}
	slices.Sort(years)
	return slices.Compact(years)
}
