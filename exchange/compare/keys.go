package compare

import (
	"cmp"
	"context"
	"reflect"
	"slices"

	"yearmark/dating/odds"
	"yearmark/schema"
	"yearmark/schema/parallel"
)

// row is one row of a model's dating key: the claims of one value of one
// feature, or the made span.
type row struct {
	feature, value string
	claims         []*schema.Claim
}

// rows gives the rows of a model's key by feature and value, the made span first.
// What its maker's record says of it is among them.
func rows(ref *schema.Reference, m *schema.Model) []row {
	var list []row
	if m.Made != nil {
		list = append(list, row{claims: []*schema.Claim{m.Made}})
	}
	at := map[[2]string]int{}
	for _, c := range ref.ClaimsOn(m) {
		key := [2]string{c.FeatureID(), cmp.Or(c.Value.Value, c.Range.Written)}
		i, known := at[key]
		if !known {
			i = len(list)
			at[key] = i
			list = append(list, row{feature: key[0], value: key[1]})
		}
		list[i].claims = append(list[i].claims, c)
	}
	slices.SortStableFunc(list, func(a, b row) int { return cmp.Or(cmp.Compare(a.feature, b.feature), cmp.Compare(a.value, b.value)) })
	return list
}

// keyEffects compares the rows of all models' keys.
func keyEffects(ctx context.Context, before, after State) ([]KeyEffect, error) {
	ids := idsOf(before.Ref, after.Ref)
	old, now := newKeys(before), newKeys(after)
	shifted := make([][]KeyEffect, len(ids))
	err := parallel.Each(ctx, len(ids), func(i int) error {
		shifted[i] = modelEffects(old, now, ids[i])
		return nil
	})
	list := []KeyEffect{}
	for _, m := range shifted {
		list = append(list, m...)
	}
	return list, err
}

// idsOf gives the models that either state has, in order.
func idsOf(refs ...*schema.Reference) []string {
	var list []string
	for _, ref := range refs {
		for _, m := range ref.Models.All() {
			list = append(list, m.ID)
		}
	}
	slices.Sort(list)
	return slices.Compact(list)
}

func modelEffects(old, now *keys, model string) []KeyEffect {
	was, is := old.model(model), now.model(model)
	var list []KeyEffect
	for _, key := range mergedKeys(was, is) {
		b, a := was[key], is[key]
		if b != nil && a != nil && reflect.DeepEqual(b.answer, a.answer) {
			continue
		}
		e := KeyEffect{Model: model, Feature: key[0], Value: key[1]}
		if b != nil {
			e.Before, e.What, e.Address = &b.answer, b.what, b.address
		}
		if a != nil {
			e.After, e.What, e.Address = &a.answer, a.what, a.address
		}
		list = append(list, e)
	}
	return list
}

func mergedKeys(a, b map[[2]string]*answered) [][2]string {
	var list [][2]string
	for _, m := range []map[[2]string]*answered{a, b} {
		for key := range m {
			list = append(list, key)
		}
	}
	slices.SortFunc(list, func(x, y [2]string) int { return cmp.Or(cmp.Compare(x[0], y[0]), cmp.Compare(x[1], y[1])) })
	return slices.Compact(list)
}

// keys answers the rows of one state's keys.
type keys struct {
	State
	table    *odds.Table
	models   map[string]int
	features map[string]int
}

func newKeys(s State) *keys {
	k := &keys{State: s, table: s.Engine.Table(), models: map[string]int{}, features: map[string]int{}}
	for i, m := range k.table.Models {
		k.models[m.ID] = i
	}
	for i, f := range k.table.Features {
		k.features[f.ID] = i
	}
	return k
}

// answered is a row with its answer.
type answered struct {
	what, address string
	answer        KeyAnswer
}

// model answers every row of a model's key, by feature and value.
func (k *keys) model(id string) map[[2]string]*answered {
	m, ok := k.Ref.Models.Get(id)
	if !ok {
		return nil
	}
	all := map[[2]string]*answered{}
	for _, r := range rows(k.Ref, m) {
		a := &answered{what: k.Ref.Statement(r.claims[0]), address: r.claims[0].Address()}
		a.answer = k.answerOf(id, r)
		for _, c := range r.claims {
			a.answer.Years = append(a.answer.Years, k.Timeline.YearsOn(c, m).String())
		}
		all[[2]string{r.feature, r.value}] = a
	}
	return all
}

// answerOf dates a bow of a model on which only the row's value was seen, for sure.
func (k *keys) answerOf(model string, r row) KeyAnswer {
	a := KeyAnswer{Years: []string{}, Likely50: []int{}, Likely95: []int{}, Strict: []int{}}
	at, known := k.models[model]
	if !known {
		return a
	}
	q := odds.Query{Models: []int{at}}
	if r.feature != "" {
		f, known := k.features[r.feature]
		if !known {
			return a
		}
		first, last, ok := k.Engine.Features()[f].Domain.Claimed(r.claims[0])
		if !ok {
			return a
		}
		seen := odds.Seen{Feature: f, Sure: k.Engine.Observers()[schema.Sure]}
		for o := first; o <= last; o++ {
			seen.Outcomes = append(seen.Outcomes, o)
		}
		q.Seen = []odds.Seen{seen}
	}
	for _, pair := range k.table.Strict(q).Left {
		a.Strict = append(a.Strict, int(k.table.Years[pair]))
	}
	p := k.table.Posterior(q)
	if p.Impossible {
		return a
	}
	year := func(admitted int) int { return int(k.table.Years[p.Pair(admitted)]) }
	a.Best = year(p.Best())
	for _, i := range p.Smallest(.50) {
		a.Likely50 = append(a.Likely50, year(i))
	}
	for _, i := range p.Smallest(.95) {
		a.Likely95 = append(a.Likely95, year(i))
	}
	return a
}
