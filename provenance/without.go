package provenance

import (
	"slices"
	"sync"

	"yearmark/schema"
)

// Without gives the weighing that WeighWithout would of the same reference, and
// weighs anew only what rests on what is left out: all else is shared. Where
// the caller knows the only sources (or examples, as "example-ID") that skip
// can name, among names them, and nothing else is looked at. skip must be safe
// for concurrent use.
func (w *Weighing) Without(skip func(schema.Citation) bool, among ...string) *Weighing {
	if w.base != nil {
		return w.base.Without(skip, among...)
	}
	if w.skip != nil {
		other := WeighWithout(w.ref, skip)
		other.rivals = w.rivals
		return other
	}
	if skip == nil {
		return w
	}
	u := &Weighing{ref: w.ref, graph: w.graph, skip: skip, reliance: w.reliance, rivals: w.rivals, base: w}
	if u.touched = w.reachesLeftOut(skip, among); len(u.touched) > 0 {
		u.graph = sync.OnceValue(func() *graph { return w.graph().without(w.ref, skip, u.touched) })
	}
	return u
}

// reachesLeftOut gives the sources that rely on what is left out, directly or
// through others: theirs are the only ways that can change.
func (w *Weighing) reachesLeftOut(skip func(schema.Citation) bool, among []string) map[string]bool {
	var open []string
	rely := w.reliance().sources
	look := func(id string) {
		for _, s := range rely[id] {
			if slices.ContainsFunc(reliances(s), func(name schema.Text) bool {
				return name.Value == id && skip(schema.Citation{Source: id, Pos: name.Pos})
			}) {
				open = append(open, s.ID)
			}
		}
	}
	for _, id := range among {
		look(id)
	}
	if among == nil {
		for id := range rely {
			look(id)
		}
	}
	if len(open) == 0 {
		return nil
	}
	touched := map[string]bool{}
	for len(open) > 0 {
		id := open[len(open)-1]
		open = open[:len(open)-1]
		if touched[id] {
			continue
		}
		touched[id] = true
		for _, s := range rely[id] {
			open = append(open, s.ID)
		}
	}
	return touched
}

// touches says whether a claim's assessment can differ from that with nothing left out.
func (w *Weighing) touches(c *schema.Claim) bool {
	return w.citesTouched(c) || slices.ContainsFunc(w.rivals[c], w.citesTouched)
}

func (w *Weighing) citesTouched(c *schema.Claim) bool {
	differs := func(by schema.Citation) bool { return w.touched[by.Source] || w.skip(by) }
	return slices.ContainsFunc(c.Cites, differs) || slices.ContainsFunc(c.Against, differs) ||
		slices.ContainsFunc(c.Attested, func(a schema.Attestation) bool { return slices.ContainsFunc(a.Cites, differs) })
}

// Touched gives the claims whose assessment can differ from that with nothing
// left out, in the order of the reference; among is as for Without. It is nil of
// a weighing that Without did not make.
func (w *Weighing) Touched(among ...string) []*schema.Claim {
	if w.base == nil {
		return nil
	}
	var list []*schema.Claim
	if among == nil {
		for c := range w.ref.Claims() {
			if w.touches(c) {
				list = append(list, c)
			}
		}
		return list
	}
	citing := w.reliance()
	for id := range w.touched {
		among = append(slices.Clip(among), id)
	}
	for _, id := range among {
		list = append(list, citing.claims[id]...)
		list = append(list, citing.against[id]...)
	}
	for _, c := range list {
		list = append(list, w.rivals[c]...)
	}
	list = slices.DeleteFunc(list, func(c *schema.Claim) bool { return !w.touches(c) })
	number := func(c *schema.Claim) int32 {
		n, _ := w.base.numberOf(c)
		return n
	}
	slices.SortFunc(list, func(a, b *schema.Claim) int { return int(number(a) - number(b)) })
	return slices.Compact(list)
}
