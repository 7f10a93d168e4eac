package dating

import (
	"maps"
	"reflect"
	"slices"
	"sync"

	"yearmark/chronology"
	"yearmark/dating/odds"
	"yearmark/provenance"
	"yearmark/schema"
	"yearmark/schema/parallel"
)

// Succession makes the engines of one state of a reference after another:
// those that New makes, at less cost where states have much in common. The zero
// Succession is ready. It is safe for concurrent use, and may be asked for
// states in any order.
type Succession struct {
	mu   sync.Mutex
	last *Engine
	from inputs // of last
}

// Engine gives the engine of a state.
func (s *Succession) Engine(ref *schema.Reference, t *chronology.Timeline, w *provenance.Weighing) *Engine {
	s.mu.Lock()
	defer s.mu.Unlock()
	in := inputs{ref: ref, times: t, weights: w, models: ref.Models.All()}
	if s.last == nil {
		s.last = build(in)
	} else {
		s.last = s.last.next(in, s.from)
	}
	s.from = in
	return s.last
}

// next gives the engine that build would make of a later state; from is what e
// was made from. Domains, tables of features and what models say of them are
// the old engine's where nothing about them differs.
func (e *Engine) next(in, from inputs) *Engine {
	n := &Engine{ref: in.ref, sure: Observers(), table: &odds.Table{Temper: temper(in.ref)}}
	records := in.ref.Features.All()
	var claims []modelClaims
	var unmoved []bool
	var parts sync.WaitGroup
	parts.Go(func() { unmoved = in.unmoved(from) })
	parts.Go(func() { n.addModels(in) })
	parts.Go(func() { claims = claimsOf(in, records) })
	parts.Wait()
	byName := slices.EqualFunc(n.table.Models, e.table.Models, func(a, b odds.Model) bool { return a.ID == b.ID })
	n.features, n.spoken = make([]Feature, len(records)), make([]heard, len(records))
	n.table.Features = make([]odds.Feature, len(records))
	parallel.For(len(records), func(i int) {
		was, known := e.featureNames.at[records[i].ID]
		n.features[i] = Feature{ID: records[i].ID, Record: records[i], Domain: newDomain(records[i], claims[i].list)}
		if known && e.features[was].Record == records[i] && sameDomain(n.features[i].Domain, e.features[was].Domain) {
			n.features[i].Domain = e.features[was].Domain
		}
		before := noneBefore
		if known && n.features[i].Domain == e.features[was].Domain {
			before = func(m int) ([]Voice, bool) {
				if !unmoved[m] {
					return nil, false
				}
				return e.spoken[was].of(m), true
			}
		}
		n.spoken[i] = n.listen(i, in, claims[i], before)
		if known && byName && reflect.DeepEqual(n.rates(&n.features[i]), e.rates(&e.features[was])) {
			n.table.Features[i] = n.tabulateAfter(e, i, was)
		} else {
			n.table.Features[i] = n.tabulate(i)
		}
	})
	n.nameAll()
	return n
}

// unmoved says of every model whether its claims are what they were for an
// engine before, with the same years and the same standings, as far as that is
// known without asking for them.
func (in inputs) unmoved(was inputs) []bool {
	looseness := func(of inputs) map[string]schema.Number { return of.ref.Settings.Judgement.Looseness }
	list := make([]bool, len(in.models))
	if !maps.Equal(looseness(in), looseness(was)) || len(in.models) != len(was.models) {
		return list
	}
	parallel.For(len(list), func(i int) {
		m := in.models[i]
		list[i] = m == was.models[i] && in.weights.StandAsIn(was.weights, m) && sameWork(in.times, was.times, m)
	})
	return list
}

// sameWork says that the years of a model's claims were worked out once for both timelines.
func sameWork(a, b *chronology.Timeline, m *schema.Model) bool {
	for _, claims := range [][]*schema.Claim{m.Features, m.Specs} {
		if len(claims) > 0 {
			work := a.Work(claims[0])
			return work != nil && work == b.Work(claims[0])
		}
	}
	return true
}

// sameDomain says whether two domains of one record have the same outcomes.
func sameDomain(a, b Domain) bool {
	switch a := a.(type) {
	case *Values:
		b, ok := b.(*Values)
		return ok && a.feature == b.feature && slices.Equal(a.IDs, b.IDs)
	case *Scale:
		b, ok := b.(*Scale)
		return ok && *a == *b
	case *Wordings:
		b, ok := b.(*Wordings)
		return ok && slices.EqualFunc(a.Patterns, b.Patterns, func(p, q Pattern) bool { return p.Text == q.Text })
	}
	return false
}

// tabulateAfter gives what tabulate does for a feature that has the same rates
// in an old engine, of the same models, and is number was there.
func (n *Engine) tabulateAfter(old *Engine, number, was int) odds.Feature {
	touched, any := make([]bool, len(n.table.Models)), false
	for m := range touched {
		touched[m] = n.pairsDiffer(old, m) || !slices.EqualFunc(n.spoken[number].of(m), old.spoken[was].of(m), Voice.alike)
		any = any || touched[m]
	}
	before := old.table.Features[was]
	if !any {
		return before
	}
	w := n.newRowWriter(number, n.table.Pairs())
	numbers := make([]int, len(before.Rows)) // of the old rows among the new ones, counted from 1
	for m := range touched {
		if touched[m] {
			w.write(m, n.spoken[number].of(m))
			continue
		}
		for _, row := range before.RowOf[old.table.Models[m].Start:old.table.Models[m].End] {
			if numbers[row] == 0 {
				numbers[row] = 1 + int(w.rows.number(before.Rows[row]))
			}
			w.rows.feature.RowOf = append(w.rows.feature.RowOf, uint32(numbers[row]-1))
		}
	}
	return w.rows.feature
}

// alike says whether two voices make the same rows.
func (v Voice) alike(u Voice) bool {
	return v.First == u.First && v.Last == u.Last && v.Credence == u.Credence && v.Looseness == u.Looseness && sameYears(v.Years, u.Years)
}
