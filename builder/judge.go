package builder

import (
	"slices"
	"sync"

	"yearmark/checks"
	"yearmark/dating"
	"yearmark/schema"
)

// judge tells the checks what dating makes of an example: the two are peers
// that do not know of each other.
type judge struct{ apart *dating.Apart }

func newJudge(apart *dating.Apart) judge {
	apart.All()
	return judge{apart}
}

// Judge dates the example from its features alone, without what rests on it.
func (j judge) Judge(e *schema.Example) checks.ExampleVerdict {
	answer, err := j.apart.Brief(e)
	if err != nil || answer.Observed == 0 || answer.Impossible {
		return checks.ExampleVerdict{}
	}
	return checks.ExampleVerdict{
		Dated: true, Years: yearsOf(answer.Strict.Years),
		Conflicts: answer.Strict.Conflicts, Likely: yearsOf(answer.Likely95),
	}
}

// patient judges one example at a time, so that who edits meanwhile does not
// wait, and none any more once stop says so.
type patient struct {
	judge
	turn sync.Mutex
	stop func() bool
}

// Judge dates the example when it is its turn.
func (p *patient) Judge(e *schema.Example) checks.ExampleVerdict {
	p.turn.Lock()
	defer p.turn.Unlock()
	if p.stop() {
		return checks.ExampleVerdict{}
	}
	return p.judge.Judge(e)
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
