package chronology

import (
	"slices"
	"strings"

	"yearmark/schema"
	"yearmark/schema/parallel"
)

// Renew gives what Build would of a later state of the reference, and works
// out anew only what has changed. A record is taken to be unchanged if it is the
// very same one: see schema.Assemble for making a reference of old records and
// new ones. The timeline itself stays as it is.
func (t *Timeline) Renew(ref *schema.Reference) *Timeline {
	u := &Timeline{plan: newPlan(ref)}
	u.groups = make([]*group, len(u.parties))
	same := t.sameFrame(u.plan)
	changed := t.changes(ref)
	parallel.For(len(u.parties), func(i int) {
		of := &u.parties[i]
		j, known := t.partyOf(of)
		if !known || !same || t.group(j).partial || !of.same(&t.parties[j]) || changed.anyCited() && of.cites(changed.cited) || changed.features(of) {
			u.groups[i] = u.work(of, nil)
			return
		}
		kept := *t.group(j)
		kept.plan, kept.party = u.plan, of
		u.groups[i] = &kept
	})
	return u
}

// sameFrame says that what every group depends on is alike: the horizon, the
// editor's judgement, and where the horizon is stated.
func (p *plan) sameFrame(q *plan) bool {
	if p.horizon != q.horizon || p.circa != q.circa || p.ref.Settings.Years.Pos != q.ref.Settings.Years.Pos || len(p.believed) != len(q.believed) {
		return false
	}
	for kind, credence := range p.believed {
		if q.believed[kind] != credence {
			return false
		}
	}
	return true
}

// partyOf finds the party of another plan that holds the first record of one.
func (p *plan) partyOf(q *party) (int, bool) {
	if len(q.makers) > 0 {
		at, known := p.ofMaker[q.makers[0]]
		return int(at.party), known
	}
	at, known := p.ofModel[q.models[0]]
	return int(at.party), known
}

// same says that two parties hold the same records.
func (p *party) same(q *party) bool {
	return slices.Equal(p.makers, q.makers) && slices.Equal(p.models, q.models)
}

// changes is what changed in records that groups cite or name.
type changes struct {
	sources  map[string]bool
	feature  map[string]bool
	examples map[string]bool
}

func (t *Timeline) changes(ref *schema.Reference) changes {
	return changes{
		sources:  differing(&t.ref.Sources, &ref.Sources),
		examples: differing(&t.ref.Examples, &ref.Examples),
		feature:  differing(&t.ref.Features, &ref.Features),
	}
}

// differing names the records that are not the same on both shelves.
func differing[R interface {
	schema.Record
	comparable
}](a, b *schema.Shelf[R]) map[string]bool {
	names := map[string]bool{}
	x, y := a.All(), b.All() // both by identifier
	for len(x) > 0 && len(y) > 0 {
		if x[0] == y[0] {
			x, y = x[1:], y[1:]
			continue
		}
		order := strings.Compare(x[0].Header().ID, y[0].Header().ID)
		if order <= 0 {
			names[x[0].Header().ID] = true
			x = x[1:]
		}
		if order >= 0 {
			names[y[0].Header().ID] = true
			y = y[1:]
		}
	}
	for _, r := range slices.Concat(x, y) {
		names[r.Header().ID] = true
	}
	return names
}

func (c changes) anyCited() bool { return len(c.sources) > 0 || len(c.examples) > 0 }

func (c changes) cited(cite schema.Citation) bool {
	id, isExample := cite.ExampleID()
	return c.sources[cite.Source] || isExample && c.examples[id]
}

func (c changes) features(p *party) bool {
	return len(c.feature) > 0 && slices.ContainsFunc(p.claims, func(claim *schema.Claim) bool { return c.feature[claim.FeatureID()] })
}
