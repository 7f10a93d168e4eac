package compare

import (
	"context"
	"reflect"
	"slices"

	"yearmark/dating"
	"yearmark/schema"
	"yearmark/schema/parallel"
)

// exampleEffects dates every example that both states have, by each.
func exampleEffects(ctx context.Context, before, after State) ([]ExampleEffect, error) {
	examples := after.Ref.Examples.All()
	shifted := make([]*ExampleEffect, len(examples))
	old, now := before.loo(), after.loo()
	err := parallel.Each(ctx, len(examples), func(i int) error {
		e := examples[i]
		was, known := before.Ref.Examples.Get(e.ID)
		if !known {
			return nil
		}
		effect := &ExampleEffect{Example: e.ID, Title: e.Title(), Address: e.Address(), Before: answerOf(old, was), After: answerOf(now, e)}
		effect.Observed = !reflect.DeepEqual(dating.QuestionOf(before.Ref, was), dating.QuestionOf(after.Ref, e))
		if !effect.Before.same(effect.After) {
			shifted[i] = effect
		}
		return nil
	})
	list := []ExampleEffect{}
	for _, e := range shifted {
		if e != nil {
			list = append(list, *e)
		}
	}
	return list, err
}

// loo dates examples as their pages do, each without what rests on it.
func (s State) loo() *dating.LeaveOneOut {
	return dating.NewLeaveOneOut(s.Engine, s.Timeline, s.Weighing)
}

func answerOf(loo *dating.LeaveOneOut, e *schema.Example) *Answer {
	a, err := loo.Brief(e)
	if err != nil {
		return &Answer{Refused: err.Error(), Likely50: []dating.ModelYears{}, Likely95: []dating.ModelYears{}, Strict: []dating.ModelYears{}}
	}
	return &Answer{Best: a.Best, Likely50: some(a.Likely50), Likely95: some(a.Likely95), Strict: some(a.Strict.Years)}
}

// same says whether two answers name the same best year and the same sets.
func (a *Answer) same(b *Answer) bool {
	if a.Refused != b.Refused || (a.Best == nil) != (b.Best == nil) {
		return false
	}
	if a.Best != nil && (a.Best.Model != b.Best.Model || a.Best.Maker != b.Best.Maker || a.Best.Year != b.Best.Year) {
		return false
	}
	return sameYears(a.Likely50, b.Likely50) && sameYears(a.Likely95, b.Likely95) && sameYears(a.Strict, b.Strict)
}

// sameYears compares sets of models and years, in whatever order the models stand.
func sameYears(a, b []dating.ModelYears) bool {
	if len(a) != len(b) {
		return false
	}
	of := map[[2]string][]int{}
	for _, m := range a {
		of[[2]string{m.Model, m.Maker}] = m.Years
	}
	for _, m := range b {
		if years, ok := of[[2]string{m.Model, m.Maker}]; !ok || !slices.Equal(years, m.Years) {
			return false
		}
	}
	return true
}

// some gives an empty list for none.
func some[T any](list []T) []T {
	if list == nil {
		return []T{}
	}
	return list
}
