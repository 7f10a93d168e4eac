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
	trials func() (dating.Calibration, error)
}

func newExampleDater(loo *dating.LeaveOneOut, trials func() (dating.Calibration, error)) exampleDater {
	loo.All()
	return exampleDater{loo, trials}
}

// Temper is the temper that the trials speak clearly for, or 0.
func (j exampleDater) Temper() float64 {
	if c, err := j.trials(); err == nil && c.Clear {
		return c.Suggested
	}
	return 0
}

// Date dates the example from its features alone, without what rests on it.
func (j exampleDater) Date(e *schema.Example) checks.ExampleVerdict {
	answer, err := j.loo.Brief(e)
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
