package schema

import (
	"maps"
	"slices"
)

// Persons lists the persons and firms whom the public part of the records names
// by a key that is for names, each once and in order: who examined, wrote, said,
// decided, designed or owned. Names in prose and in titles are not among them.
func Persons(r *Reference) []string {
	found := map[string]bool{}
	add := func(names ...Text) {
		for _, n := range names {
			if n.Value != "" {
				found[n.Value] = true
			}
		}
	}
	for _, m := range r.Makers.All() {
		for _, p := range m.People {
			add(p.Name)
		}
	}
	for _, s := range r.Sources.All() {
		add(s.By)
		for _, p := range s.Places {
			add(p.By)
		}
	}
	for _, e := range r.Examples.All() {
		add(e.By)
		for _, a := range e.Attributed {
			add(a.By)
		}
	}
	for _, rec := range r.Records() {
		for _, c := range ClaimsOf(rec) {
			if c.About == AboutOwner {
				add(c.Name)
			}
			if c.Settled != nil {
				add(c.Settled.By)
			}
		}
	}
	return slices.Sorted(maps.Keys(found))
}
