package chronology

import (
	"yearmark/schema"
	"yearmark/schema/edtf"
	"yearmark/schema/parallel"
)

// Timeline holds what follows in time from the records of one reference. It
// does not change and is safe for concurrent use.
type Timeline struct {
	*plan
	groups []*group // as in plan.components
	left   *leftOut // of a timeline made by Without
}

// Build works out the years of every claim of the reference.
func Build(ref *schema.Reference) *Timeline { return BuildWithout(ref, nil) }

// BuildWithout is Build with some citations left out: what rests only on
// citations for which skip is true counts for nothing. It is how an example is
// kept from helping to date itself. A claim so left out has no possible year; a
// made span so left out is unknown. skip must be safe for concurrent use.
func BuildWithout(ref *schema.Reference, skip func(schema.Citation) bool) *Timeline {
	t := &Timeline{plan: newPlan(ref)}
	t.groups = make([]*group, len(t.components))
	parallel.For(len(t.components), func(i int) { t.groups[i] = t.work(&t.components[i], skip) })
	return t
}

// find gives the group that a claim belongs to and its number there.
func (t *Timeline) find(c *schema.Claim) (*group, int, bool) {
	at, known := t.placeOf(c)
	if !known {
		return nil, 0, false
	}
	return t.group(int(at.component)), int(at.claim), true
}

// Stated gives a claim's years as its record states them, cut to the made span:
// its span, its era's, or what its attestations leave open. A claim that is
// not of the reference has no possible year.
func (t *Timeline) Stated(c *schema.Claim) edtf.Years {
	if g, i, ok := t.find(c); ok {
		return g.stated(i)
	}
	return edtf.Years{A: 1}
}

// Years gives a claim's years, tightened by all that bears on them.
func (t *Timeline) Years(c *schema.Claim) edtf.Years {
	if g, i, ok := t.find(c); ok {
		return g.years(i)
	}
	return edtf.Years{A: 1}
}

// YearsOn gives a claim's years on a model that it holds for (see
// schema.Claim.HoldsFor): those of a maker's claim are cut to the years in
// which the model can have been made, and may then be empty.
func (t *Timeline) YearsOn(c *schema.Claim, m *schema.Model) edtf.Years {
	y := t.Years(c)
	if c.Maker == nil {
		return y
	}
	made := t.Made(m)
	return y.Cut(edtf.Range{First: made.A, Last: made.D})
}

// Trading gives the years in which a maker traded, tightened: those of the
// horizon where no record says.
func (t *Timeline) Trading(m *schema.Maker) edtf.Years {
	if m.Trading != nil {
		if y := t.Years(m.Trading); !y.Empty() {
			return y
		}
	}
	return edtf.OverRange(t.horizon)
}

// Derived says whether a claim's years are tighter than its record states.
func (t *Timeline) Derived(c *schema.Claim) bool {
	g, i, ok := t.find(c)
	return ok && g.derived(i)
}

// Made gives the years in which the model was made, tightened. Where no record
// says, they are all the years of its maker's trading, or of the horizon.
func (t *Timeline) Made(m *schema.Model) edtf.Years {
	if m.Made != nil {
		if y := t.Years(m.Made); !y.Empty() {
			return y
		}
	}
	if maker, ok := t.ref.Makers.Get(m.Maker.Value); ok {
		y := t.Trading(maker)
		return edtf.OverRange(edtf.Range{First: y.A, Last: y.D})
	}
	return edtf.OverRange(t.horizon)
}

// Conflicts gives every contradiction of the reference, each once, in order of place.
func (t *Timeline) Conflicts() []Conflict {
	var all []Conflict
	for i := range t.groups {
		all = append(all, t.group(i).conflicts...)
	}
	sortConflicts(all)
	return all
}

// Unsearched lists the claims to one of several years that so many years bear
// on that the search ended before all were tried, by the records that hang
// together: they may keep years, between the first and the last possible, that
// no dating of those records has.
func (t *Timeline) Unsearched() [][]*schema.Claim {
	var all [][]*schema.Claim
	for i := range t.groups {
		if list := t.group(i).unsearched; len(list) > 0 {
			all = append(all, list)
		}
	}
	return all
}
