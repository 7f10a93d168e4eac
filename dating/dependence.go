package dating

import (
	"slices"

	"yearmark/schema"
)

// leftOut is what an example is known by: itself, and the sources that document
// it with what relies on them.
type leftOut struct {
	ref     *schema.Reference
	example string            // as citations name it
	whole   []string          // sources that document it
	relying map[string]bool   // sources that rely on those, as a whole
	entries []schema.Citation // what documents it in sources whose places are separate
	sources []string          // all that skips can be true of, rising
}

// skips says whether a citation counts for nothing while the example is dated.
func (l *leftOut) skips(by schema.Citation) bool {
	if by.Source == l.example || slices.Contains(l.whole, by.Source) {
		return true
	}
	for _, entry := range l.entries {
		if by.Meets(entry) {
			return true
		}
	}
	if len(l.whole) == 0 {
		return false
	}
	source, ok := l.ref.Sources.Get(by.Source)
	if !ok {
		return false
	}
	places := source.PlacesAt(by.Place)
	for _, p := range places {
		if !p.Own.Value && slices.ContainsFunc(p.ReliesOn, func(on schema.Text) bool { return l.relying[on.Value] || slices.Contains(l.whole, on.Value) }) {
			return true
		}
	}
	own := len(places) > 0 && !slices.ContainsFunc(places, func(p *schema.SourcePlace) bool { return !p.Own.Value && len(p.ReliesOn) == 0 })
	return l.relying[by.Source] && !own
}

// knownBy finds what an example is known by. relying is as the function of that name gives it.
func knownBy(ref *schema.Reference, ex *schema.Example, relying map[string][]*schema.Source) *leftOut {
	l := &leftOut{ref: ref, example: "example-" + ex.ID, relying: map[string]bool{}}
	l.sources = []string{l.example}
	if ex.Documented != nil {
		for _, by := range ex.Documented.Cites {
			if s, ok := ref.Sources.Get(by.Source); ok && s.Separate.Value {
				l.entries = append(l.entries, by)
			} else {
				l.whole = append(l.whole, by.Source)
			}
			l.sources = append(l.sources, by.Source)
		}
	}
	open := slices.Clone(l.whole)
	for len(open) > 0 {
		id := open[len(open)-1]
		open = open[:len(open)-1]
		for _, s := range relying[id] {
			l.sources = append(l.sources, s.ID)
			if reliesOn(s.ReliesOn, id) && !l.relying[s.ID] {
				l.relying[s.ID] = true
				open = append(open, s.ID)
			}
		}
	}
	slices.Sort(l.sources)
	l.sources = slices.Compact(l.sources)
	return l
}

func reliesOn(list []schema.Text, id string) bool {
	return slices.ContainsFunc(list, func(on schema.Text) bool { return on.Value == id })
}

// relying lists, by source, the sources that rely on it as a whole or in one of their places.
func relying(ref *schema.Reference) map[string][]*schema.Source {
	by := map[string][]*schema.Source{}
	for _, s := range ref.Sources.All() {
		names := slices.Clone(s.ReliesOn)
		for _, p := range s.Places {
			names = append(names, p.ReliesOn...)
		}
		for _, on := range names {
			if list := by[on.Value]; len(list) == 0 || list[len(list)-1] != s {
				by[on.Value] = append(list, s)
			}
		}
	}
	return by
}

// dependsOn says what the example is known by, or nil where nothing depends on it.
func (a *LeaveOneOut) dependsOn(ex *schema.Example) *leftOut {
	l := knownBy(a.ref, ex, a.relying())
	for _, id := range l.sources {
		for _, place := range a.cited()[id] {
			if l.skips(schema.Citation{Source: id, Place: place}) {
				return l
			}
		}
	}
	return nil
}

// citedPlaces lists the places, "" for none, that something dated cites or a
// source relies on, by source or by example as "example-ID".
func citedPlaces(ref *schema.Reference) map[string][]string {
	cited := map[string][]string{}
	type place struct{ source, place string }
	known := map[place]bool{}
	note := func(list []schema.Citation) {
		for _, c := range list {
			if at := (place{c.Source, c.Place}); !known[at] {
				known[at] = true
				cited[c.Source] = append(cited[c.Source], c.Place)
			}
		}
	}
	for _, m := range ref.Makers.All() {
		noteClaims(note, m.Claims(), m.Order)
		if m.SpecialOrders != nil {
			note(m.SpecialOrders.Cites)
		}
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
	return cited
}

func noteClaims(note func([]schema.Citation), claims []*schema.Claim, orders []*schema.Order) {
	for _, c := range claims {
		noteClaim(note, c)
	}
	for _, o := range orders {
		note(o.Cites)
		note(o.Against)
	}
}

func noteClaim(note func([]schema.Citation), c *schema.Claim) {
	note(c.Cites)
	note(c.Against)
	for _, a := range c.Attested {
		note(a.Cites)
	}
	for _, n := range c.Counted {
		note(n.Cites)
	}
}
