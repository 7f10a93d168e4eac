package chronology

import (
	"slices"
	"sync"

	"yearmark/schema"
)

// leftOut is what a timeline leaves out, and the groups that may differ for it.
type leftOut struct {
	skip       func(schema.Citation) bool
	components []int32  // rising
	groups     sync.Map // by component, each worked out when it is first asked after
}

// Without gives the timeline that BuildWithout would. It works out anew only
// those groups that cite something for which skip is true, each when it is
// first asked after. Where the caller knows the only sources (or examples, as
// "example-ID") that skip can name, among names them, and nothing else is looked at.
func (t *Timeline) Without(skip func(schema.Citation) bool, among ...string) *Timeline {
	out := &leftOut{skip: skip}
	for i, g := range t.groups {
		if g.partial {
			out.components = append(out.components, int32(i))
		}
	}
	switch {
	case skip == nil:
	case among == nil:
		for i := range t.components {
			if t.components[i].cites(skip) {
				out.components = append(out.components, int32(i))
			}
		}
	default:
		for _, id := range among {
			out.components = append(out.components, t.citing()[id]...)
		}
	}
	slices.Sort(out.components)
	out.components = slices.Compact(out.components)
	return &Timeline{plan: t.plan, groups: t.groups, left: out}
}

// group gives a component with its years worked out.
func (t *Timeline) group(i int) *group {
	if t.left == nil {
		return t.groups[i]
	}
	if _, differs := slices.BinarySearch(t.left.components, int32(i)); !differs {
		return t.groups[i]
	}
	if g, done := t.left.groups.Load(i); done {
		return g.(*group)
	}
	g, _ := t.left.groups.LoadOrStore(i, t.work(&t.components[i], t.left.skip))
	return g.(*group)
}

// citers gives the components that cite each source or example, rising.
func (p *plan) citers() map[string][]int32 {
	by := map[string][]int32{}
	for i := range p.components {
		for cite := range p.components[i].citations {
			if list := by[cite.Source]; len(list) == 0 || list[len(list)-1] != int32(i) {
				by[cite.Source] = append(list, int32(i))
			}
		}
	}
	return by
}
