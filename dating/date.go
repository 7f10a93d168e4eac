package dating

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"yearmark/dating/odds"
	"yearmark/schema"
)

// least is the chance at which a pair is no longer listed.
const least = 1e-12

// maxOutcomes is how many answers to the next look are thought through.
const maxOutcomes = 8

// Date answers a question. The error is a *Refusal: a model, feature or value
// that is not known, with the nearest that is, or a feature observed twice.
func (e *Engine) Date(q Question) (*Answer, error) {
	query, asked, err := e.resolve(q)
	if err != nil {
		return nil, err
	}
	observed := e.understood(q, query, asked)
	r, p := e.reasoned(query, asked, observed)
	a := &Answer{
		engine: e, question: q, Observed: observed, Impossible: r.Impossible, Strict: r.Strict,
		Models: r.Models, Years: r.Years, Best: r.Best, Likely50: r.Likely50, Likely95: r.Likely95, Evidence: r.Evidence,
	}
	if a.Impossible {
		return a, nil
	}
	a.Entropy = p.Entropy
	for _, i := range p.Order(least) {
		a.Odds = append(a.Odds, e.pair(p, i))
	}
	a.Suggestion = e.suggestions(p, query)
	return a, nil
}

// understood repeats the observations with identifiers for names, in the order asked.
func (e *Engine) understood(q Question, query odds.Query, asked []int) []Observation {
	list := make([]Observation, len(asked))
	for i, at := range asked {
		o := q.Observed[at]
		f := &e.features[query.Seen[i].Feature]
		values := slices.Clone(o.Values)
		if v, ok := f.Domain.(*Values); ok {
			values = values[:0]
			for _, outcome := range query.Seen[i].Outcomes {
				values = append(values, v.IDs[outcome])
			}
		}
		list[at] = Observation{Feature: f.ID, Values: values, Sure: cmp.Or(o.Sure, schema.Sure)}
	}
	return list
}

// pair names an admitted pair and its chance.
func (e *Engine) pair(p *odds.Posterior, admitted int) Odds {
	h := p.Pair(admitted)
	m := e.table.Models[e.modelOf[h]]
	return Odds{m.ID, m.Maker, int(e.table.Years[h]), p.Chance[admitted]}
}

// chances lists the models and the years with theirs.
func (e *Engine) chances(p *odds.Posterior) ([]ModelChance, []YearChance) {
	var models []ModelChance
	years := e.yearSums(p)
	for m, from := range p.Models() {
		sum := 0.0
		for i := from.Start; i < from.End; i++ {
			sum += p.Chance[i]
			years.add(int(e.table.Years[p.Pair(i)]), p.Chance[i])
		}
		if sum > least {
			models = append(models, ModelChance{e.table.Models[m].ID, e.table.Models[m].Maker, sum})
		}
	}
	slices.SortStableFunc(models, func(a, b ModelChance) int { return cmp.Compare(odds.Rank(b.Chance), odds.Rank(a.Chance)) })
	return models, years.list()
}

// yearSums sums chances by year.
type yearSums struct {
	first int
	sums  []float64
}

// yearSums allocates the years of the pairs that a posterior admits.
func (e *Engine) yearSums(p *odds.Posterior) *yearSums {
	first, last := int32(math.MaxInt32), int32(math.MinInt32)
	for m := range p.Models() { // whose years rise
		of := e.table.Models[m]
		first, last = min(first, e.table.Years[of.Start]), max(last, e.table.Years[of.End-1])
	}
	if last < first {
		return &yearSums{}
	}
	return &yearSums{int(first), make([]float64, last-first+1)}
}

func (y *yearSums) add(year int, chance float64) { y.sums[year-y.first] += chance }

func (y *yearSums) list() []YearChance {
	var list []YearChance
	for i, c := range y.sums {
		if c > 0 {
			list = append(list, YearChance{y.first + i, c})
		}
	}
	return list
}

// group puts a set of admitted pairs together by model, the model that holds
// most of the set first.
func (e *Engine) group(p *odds.Posterior, set []int) []ModelYears {
	var list []ModelYears
	held := map[[2]string]float64{}
	for _, i := range set {
		o := e.pair(p, i)
		held[[2]string{o.Model, o.Maker}] += o.Chance
		list = appendYear(list, o)
	}
	rank := func(m ModelYears) float64 { return odds.Rank(held[[2]string{m.Model, m.Maker}]) }
	slices.SortStableFunc(list, func(a, b ModelYears) int { return cmp.Compare(rank(b), rank(a)) })
	return list
}

// pairs puts pairs of the table together by model, in the table's order.
func (e *Engine) pairs(table []int) []ModelYears {
	list := []ModelYears{}
	for _, h := range table {
		m := e.table.Models[e.modelOf[h]]
		list = appendYear(list, Odds{m.ID, m.Maker, int(e.table.Years[h]), 0})
	}
	return list
}

// appendYear adds a pair's year to the last of the list, or to a new one where
// that is of another model.
func appendYear(list []ModelYears, o Odds) []ModelYears {
	if last := len(list) - 1; last >= 0 && list[last].Model == o.Model && list[last].Maker == o.Maker {
		list[last].Years = append(list[last].Years, o.Year)
		return list
	}
	return append(list, ModelYears{o.Model, o.Maker, []int{o.Year}})
}

// strict takes the observations at their word, in the order asked.
func (e *Engine) strict(query odds.Query, asked []int, observed []Observation) Strict {
	s := e.table.Strict(query)
	result := Strict{Years: e.pairs(s.Left), Conflicts: [][]string{}, Without: []Without{}}
	for _, set := range s.Conflicts {
		places := make([]int, len(set))
		for k, i := range set {
			places[k] = asked[i]
		}
		slices.Sort(places)
		var names []string
		for _, at := range places {
			names = append(names, observed[at].Feature)
		}
		result.Conflicts = append(result.Conflicts, names)
	}
	without := make([]Without, len(s.Without))
	for i, left := range s.Without {
		without[asked[i]] = Without{Feature: observed[asked[i]].Feature, Years: e.pairs(left)}
	}
	result.Without = append(result.Without, without...)
	return result
}

// evidence weighs each observation for a pair of the table, in the order asked.
func (e *Engine) evidence(query odds.Query, asked []int, observed []Observation, pair int) []Evidence {
	list := make([]Evidence, len(asked))
	for i, decibans := range e.table.Decibans(query, pair) {
		list[asked[i]] = Evidence{observed[asked[i]], decibans, e.grounds(observed[asked[i]], query.Seen[i], pair)}
	}
	return list
}

// grounds gives the claims behind an observation, for a pair of the table.
func (e *Engine) grounds(o Observation, seen odds.Seen, pair int) []Ground {
	var mine, others []Ground
	domain := e.features[seen.Feature].Domain
	for _, v := range e.ClaimsAbout(e.table.ModelOf(pair), seen.Feature) {
		g := Ground{Claim: v.Claim, Years: v.Years, Witnesses: v.Witnesses, Dissents: v.Dissents, Credence: v.Credence}
		g.Holds = v.Years.Possible(int(e.table.Years[pair]))
		g.Seen = slices.ContainsFunc(seen.Outcomes, func(o int) bool { return v.First <= o && o <= v.Last })
		g.Label = domain.Label(span(v.First, v.Last))
		if w, ok := domain.(*Wordings); ok && g.Seen && w.Patterns[v.First].RE2 != "" {
			g.Label = "such as \"" + strings.Join(o.Values, "\" or \"") + "\""
		}
		if e.ref != nil {
			g.Label += e.ref.Conditions(v.Claim.When)
		}
		switch {
		case g.Seen:
			mine = append(mine, g)
		case g.Holds:
			others = append(others, g)
		}
	}
	return append(mine, others...)
}

// span lists the outcomes from the first to the last.
func span(first, last int) []int {
	list := make([]int, 0, last-first+1)
	for i := first; i <= last; i++ {
		list = append(list, i)
	}
	return list
}

// suggestions ranks the features not observed by what a sure look would tell, and
// thinks the first one through.
func (e *Engine) suggestions(p *odds.Posterior, query odds.Query) []Suggestion {
	var list []Suggestion
	for i := range e.features {
		if slices.ContainsFunc(query.Seen, func(s odds.Seen) bool { return s.Feature == i }) || e.saysNothing(query.Models, i) {
			continue
		}
		list = append(list, Suggestion{Feature: e.features[i].ID, Bits: p.Gain(i), Effort: e.effort(i)})
	}
	slices.SortStableFunc(list, func(a, b Suggestion) int { return cmp.Compare(odds.Rank(b.Bits), odds.Rank(a.Bits)) })
	if len(list) > 0 && list[0].Bits > 0 {
		list[0].Outcomes = e.outcomes(p, list[0].Feature)
	}
	return list
}

// saysNothing says whether the makers of all the models asked about are on record
// as having it that a feature says nothing.
func (e *Engine) saysNothing(models []int, feature int) bool {
	if e.ref == nil || len(models) == 0 {
		return false
	}
	return !slices.ContainsFunc(models, func(m int) bool {
		model := e.bows[m].model
		if model == nil {
			return true
		}
		maker, known := e.ref.Makers.Get(model.Maker.Value)
		return !known || maker.Mute(e.features[feature].ID) == nil
	})
}

func (e *Engine) effort(feature int) schema.Effort {
	if r := e.features[feature].Record; r != nil {
		return r.LookEffort()
	}
	return schema.Glance
}

// outcomes thinks through what a look at the feature may show.
func (e *Engine) outcomes(p *odds.Posterior, id string) []Outcome {
	number := slices.IndexFunc(e.features, func(f Feature) bool { return f.ID == id })
	domain := e.features[number].Domain
	var list []Outcome
	for _, o := range p.Outcomes(number, maxOutcomes) {
		list = append(list, Outcome{
			Values: values(domain, o.Outcomes), Label: label(domain, o.Outcomes), Chance: o.Chance,
			Best: e.pair(o.After, o.After.Best()), Likely50: e.group(o.After, o.After.Smallest(.50)),
		})
	}
	return list
}

// values gives the identifiers of a choice's outcomes, or nil for figures and words.
func values(d Domain, outcomes []int) []string {
	v, ok := d.(*Values)
	if !ok {
		return nil
	}
	var list []string
	for _, o := range outcomes {
		list = append(list, v.IDs[o])
	}
	return list
}

// manyValues is how many outcomes a label names one by one.
const manyValues = 4

// label names a group of outcomes; of many that do not stand together it says
// that it is any other.
func label(d Domain, outcomes []int) string {
	last := outcomes[len(outcomes)-1]
	if _, figures := d.(*Scale); figures && last-outcomes[0] >= len(outcomes) {
		return "another figure"
	}
	if _, figures := d.(*Scale); !figures && len(outcomes) > manyValues {
		return "any other"
	}
	return d.Label(outcomes)
}
