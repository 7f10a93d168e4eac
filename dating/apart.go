package dating

import (
	"slices"
	"sync"

	"yearmark/chronology"
	"yearmark/provenance"
	"yearmark/schema"
)

// Apart dates examples, each without what rests on it: an example never helps
// to date itself. It is safe for concurrent use.
type Apart struct {
	whole   *Engine
	times   *chronology.Timeline
	weights *provenance.Weighing
	rested  func() map[place]bool
	briefs  kept[*Brief]
	engines kept[*Engine]
}

// mostEngines is how many engines of one model are kept, of some 30 KB each.
const mostEngines = 1000

// NewApart prepares for the examples of the reference that whole was made from.
func NewApart(whole *Engine, t *chronology.Timeline, w *provenance.Weighing) *Apart {
	return &Apart{whole: whole, times: t, weights: w, engines: kept[*Engine]{most: mostEngines}, rested: sync.OnceValue(func() map[place]bool { return restedOn(whole.ref) })}
}

// Date dates the example from its features alone. Citations of it count for
// nothing, nor do citations of the place in a source that documents it. The
// answer is that of an engine made of the whole reference without them.
func (a *Apart) Date(ex *schema.Example) (*Answer, error) {
	e, _ := a.engineFor(ex)
	return e.DateExample(ex)
}

// engineFor gives an engine that knows of the example's model what the whole
// reference says without what rests on the example, or of every model where
// the example has none; and whether nothing rests on it. One that knows of a
// single model is kept for a while: it is small, and asked again for the
// example's page.
func (a *Apart) engineFor(ex *schema.Example) (e *Engine, independent bool) {
	out := a.restsOn(ex)
	if out == nil {
		return a.whole, true
	}
	m, known := a.whole.ref.Models.Get(ex.Model.Value)
	if !known {
		return a.whole.renew(a.without(out), out.sources), false
	}
	e, _ = a.engines.of(ex, func() (*Engine, error) {
		in := a.without(out)
		in.models = []*schema.Model{m}
		return build(in), nil
	})
	return e, false
}

// without is what an engine is made from that does not know of an example.
func (a *Apart) without(out *leftOut) inputs {
	in := inputs{ref: a.whole.ref, models: a.whole.models, domains: a.whole.domains(), skip: out.skips}
	in.times = a.times.Without(in.skip, out.sources...)
	in.weights = a.weights.Without(in.skip, out.sources...)
	in.renewDomains(out.sources)
	return in
}

// place is a place in a source, or an example as "example-ID" and nothing more.
type place struct{ source, place string }

// leftOut is what an example is known by: itself and the places that document it.
type leftOut struct {
	places  []place
	sources []string
}

func (l *leftOut) skips(by schema.Citation) bool {
	return by.Source == l.places[0].source || slices.Contains(l.places[1:], place{by.Source, by.Place})
}

func knownBy(ex *schema.Example) *leftOut {
	id := "example-" + ex.ID
	l := &leftOut{[]place{{source: id}}, []string{id}}
	if ex.Documented != nil {
		for _, by := range ex.Documented.Cites {
			l.places = append(l.places, place{by.Source, by.Place})
			l.sources = append(l.sources, by.Source)
		}
	}
	slices.Sort(l.sources)
	l.sources = slices.Compact(l.sources)
	return l
}

// restsOn says what the example is known by, or nil where nothing rests on it.
func (a *Apart) restsOn(ex *schema.Example) *leftOut {
	l := knownBy(ex)
	if slices.ContainsFunc(l.places, func(p place) bool { return a.rested()[p] }) {
		return l
	}
	return nil
}

// restedOn finds the places that examples are known by and that something
// dated cites.
func restedOn(ref *schema.Reference) map[place]bool {
	rested := map[place]bool{}
	for _, ex := range ref.Examples.All() {
		for _, p := range knownBy(ex).places {
			rested[p] = false
		}
	}
	note := func(list []schema.Citation) {
		for _, c := range list {
			at := [2]place{{c.Source, c.Place}, {source: c.Source}}
			for _, p := range at[:1+one(isExample(c))] {
				if _, wanted := rested[p]; wanted {
					rested[p] = true
				}
			}
		}
	}
	for _, m := range ref.Makers.All() {
		noteClaims(note, m.Claims(), m.Order)
	}
	for _, m := range ref.Models.All() {
		noteClaims(note, m.Claims(), m.Order)
		for _, r := range m.Related {
			note(r.Cites)
		}
	}
	for _, s := range ref.Sources.All() {
		for _, name := range s.ReliesOn {
			note([]schema.Citation{{Source: name.Value}})
		}
	}
	return rested
}

func isExample(c schema.Citation) bool {
	_, ok := c.ExampleID()
	return ok
}

func noteClaims(note func([]schema.Citation), claims []*schema.Claim, orders []*schema.Order) {
	for _, c := range claims {
		note(c.Cites)
		note(c.Against)
		for _, a := range c.Attested {
			note(a.Cites)
		}
	}
	for _, o := range orders {
		note(o.Cites)
		note(o.Against)
	}
}
