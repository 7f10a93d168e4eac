package dating

import (
	"slices"

	"yearmark/dating/odds"
	"yearmark/schema"
	"yearmark/schema/edtf"
	"yearmark/schema/parallel"
)

// domains gives the outcomes of every feature.
func (e *Engine) domains() []Domain {
	list := make([]Domain, len(e.features))
	for i := range e.features {
		list[i] = e.features[i].Domain
	}
	return list
}

// domainsOf works out the outcomes of every feature.
func domainsOf(in inputs) []Domain {
	records := in.ref.Features.All()
	list := make([]Domain, len(records))
	var open []int // whose outcomes depend on what is claimed
	var asked []*schema.Feature
	for i, f := range records {
		switch schema.FeatureKind(f.Kind.Value) {
		case schema.Figure, schema.Wording:
			open, asked = append(open, i), append(asked, f)
		default:
			list[i] = newDomain(f, nil)
		}
	}
	claims := claimsOf(in, asked)
	parallel.For(len(open), func(k int) { list[open[k]] = newDomain(asked[k], claims[k].list) })
	return list
}

// renewDomains makes the outcomes of those features anew that a claim left out
// spoke of, where outcomes depend on what is claimed.
func (in *inputs) renewDomains(sources []string) {
	lost := map[string]bool{}
	for _, c := range in.weights.Touched(sources...) {
		if in.leavesOut(c) {
			lost[c.FeatureID()] = true
		}
	}
	for i, f := range in.ref.Features.All() {
		if _, fixed := in.domains[i].(*Values); !fixed && lost[f.ID] {
			in.domains[i] = newDomain(f, claimsOf(*in, []*schema.Feature{f})[0].list)
		}
	}
}

// renew gives the engine that build would make of all models, and works out
// anew only the models and features that what is left out bears on. in.models
// are the engine's.
func (e *Engine) renew(in inputs, sources []string) *Engine {
	touched := e.touched(in, sources)
	d := &Engine{ref: e.ref, sure: e.sure, models: e.models, features: slices.Clone(e.features), spoken: slices.Clone(e.spoken)}
	d.table = &odds.Table{Temper: e.table.Temper, Features: make([]odds.Feature, len(e.features))}
	moved := d.renewPairs(e, in, touched)
	claims := claimsOf(in, in.ref.Features.All())
	parallel.For(len(e.features), func(i int) {
		if d.features[i].Domain = in.domains[i]; in.domains[i] != e.features[i].Domain {
			d.spoken[i] = d.listen(i, in, claims[i], noneBefore)
			d.table.Features[i] = d.tabulate(i)
			return
		}
		d.renewFeature(e, i, in, renewal{claims[i], touched, moved})
	})
	if moved {
		d.nameAll()
	} else {
		d.featureNames, d.modelNames, d.modelOf = e.featureNames, e.modelNames, e.modelOf
	}
	return d
}

// renewal is what is done anew for one feature: its claims as they now count,
// the models touched, by place, and whether any of their pairs changed.
type renewal struct {
	claims  modelClaims
	touched []bool
	moved   bool
}

// touched marks the models whose years or claims can differ.
func (e *Engine) touched(in inputs, sources []string) []bool {
	touched := make([]bool, len(e.models))
	mark := func(m *schema.Model) {
		if i, ok := e.modelNames.at[m.ID]; ok {
			touched[i] = true
		}
	}
	for _, m := range in.times.Touched() {
		mark(m)
	}
	for _, c := range in.weights.Touched(sources...) {
		if c.Model != nil {
			mark(c.Model)
		}
	}
	return touched
}

// renewPairs fills the pairs and their prior, and says whether any changed.
// Where none did they are those of the old engine.
func (e *Engine) renewPairs(old *Engine, in inputs, touched []bool) (moved bool) {
	anew := &Engine{table: &odds.Table{}}
	alone := in
	for m, isTouched := range touched {
		if isTouched {
			alone.models = in.models[m : m+1]
			anew.addModels(alone)
			continue
		}
		was := old.table.Models[m]
		start := len(anew.table.Years)
		anew.table.Years = append(anew.table.Years, old.table.Years[was.Start:was.End]...)
		anew.table.Prior = append(anew.table.Prior, old.table.Prior[was.Start:was.End]...)
		anew.table.Models = append(anew.table.Models, odds.Model{ID: was.ID, Start: start, End: len(anew.table.Years)})
	}
	from := anew.table
	if slices.Equal(from.Models, old.table.Models) && slices.Equal(from.Years, old.table.Years) && slices.Equal(from.Prior, old.table.Prior) {
		from = old.table
	}
	e.table.Models, e.table.Years, e.table.Prior = from.Models, from.Years, from.Prior
	return from != old.table
}

// renewFeature works out a feature's rows for the models touched that now say
// something else of it, and takes all others over.
func (e *Engine) renewFeature(old *Engine, number int, in inputs, r renewal) {
	anew := map[int][]Voice{}
	next := 0
	for m, isTouched := range r.touched {
		first := next
		for next < len(r.claims.list) && int(r.claims.models[next]) == m {
			next++
		}
		if !isTouched {
			continue
		}
		voices := e.hear(nil, number, in, r.claims.list[first:next])
		if !slices.EqualFunc(voices, old.Voices(m, number), Voice.Same) || e.pairsDiffer(old, m) {
			anew[m] = voices
		}
	}
	was := old.table.Features[number]
	if len(anew) == 0 && !r.moved {
		e.table.Features[number] = was
		return
	}
	e.spoken[number].anew = anew
	w := e.newRowWriter(number, e.table.Pairs())
	rows := len(was.Rows) // the new rows follow the old ones
	for m := range r.touched {
		if voices, differs := anew[m]; differs {
			from := len(w.rows.feature.RowOf)
			w.write(m, voices)
			for i := range w.rows.feature.RowOf[from:] {
				w.rows.feature.RowOf[from+i] += uint32(rows)
			}
			continue
		}
		at := old.table.Models[m]
		w.rows.feature.RowOf = append(w.rows.feature.RowOf, was.RowOf[at.Start:at.End]...)
	}
	w.rows.feature.Rows = slices.Concat(was.Rows, w.rows.feature.Rows)
	e.table.Features[number] = w.rows.feature
}

// pairsDiffer says whether a model has other years than before.
func (e *Engine) pairsDiffer(old *Engine, model int) bool {
	now, was := e.table.Models[model], old.table.Models[model]
	return !slices.Equal(e.table.Years[now.Start:now.End], old.table.Years[was.Start:was.End])
}

// Same says whether two voices make the same rows and the same evidence.
func (v Voice) Same(u Voice) bool {
	return v.Claim == u.Claim && v.Witnesses == u.Witnesses && v.alike(u)
}

func sameYears(a, b edtf.Years) bool {
	return a.A == b.A && a.B == b.B && a.C == b.C && a.D == b.D && a.Choice == b.Choice && slices.Equal(a.Members, b.Members)
}
