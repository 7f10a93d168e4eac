package chronology

import (
	"sync"

	"yearmark/schema"
	"yearmark/schema/edtf"
)

// plan is what a reference's records are before any year is worked out: who
// hangs together with whom.
type plan struct {
	ref        *schema.Reference
	horizon    edtf.Range
	circa      int
	issued     map[string]int // the last year in which a source can have been issued; patents left out
	components []component
	ofMaker    map[*schema.Maker]place // of the first claim of each
	ofModel    map[*schema.Model]place
	names      func() *names
	citing     func() map[string][]int32 // by source: the components that cite it
}

// place is where a claim is found: the component, and the claim's number in it.
type place struct{ component, claim int32 }

// component is a set of records that hang together.
type component struct {
	makers []*schema.Maker
	models []*schema.Model
	claims []*schema.Claim // of the makers, then of the models
}

func newPlan(ref *schema.Reference) *plan {
	p := &plan{ref: ref, horizon: ref.Horizon(), circa: ref.Settings.Judgement.Circa.Value, issued: map[string]int{}}
	for _, s := range ref.Sources.All() {
		y := s.Issued.Years(edtf.Frame{Horizon: p.horizon, Circa: p.circa})
		if schema.SourceKind(s.Kind.Value) != schema.Patent && !y.Empty() {
			p.issued[s.ID] = y.D
		}
	}
	p.names = sync.OnceValue(func() *names { return newNames(ref) })
	p.citing = sync.OnceValue(p.citers)
	p.gather()
	return p
}

// gather forms the components and numbers their claims.
func (p *plan) gather() {
	u := p.unite()
	number := make([]int, len(u)) // of the component that each leads, from 1
	componentOf := func(node int) int {
		lead := u.lead(node)
		if number[lead] == 0 {
			p.components = append(p.components, component{})
			number[lead] = len(p.components)
		}
		return number[lead] - 1
	}
	makers, models := p.ref.Makers.All(), p.ref.Models.All()
	p.ofMaker, p.ofModel = make(map[*schema.Maker]place, len(makers)), make(map[*schema.Model]place, len(models))
	for i, m := range makers {
		n := componentOf(i)
		component := &p.components[n]
		p.ofMaker[m] = place{int32(n), int32(len(component.claims))}
		component.makers = append(component.makers, m)
		component.claims = append(component.claims, m.Claims()...)
	}
	for i, m := range models {
		n := componentOf(len(makers) + i)
		component := &p.components[n]
		p.ofModel[m] = place{int32(n), int32(len(component.claims))}
		component.models = append(component.models, m)
		component.claims = append(component.claims, m.Claims()...)
	}
}

// placeOf finds a claim; ok is false for one that is not of the reference.
func (p *plan) placeOf(c *schema.Claim) (at place, ok bool) {
	number, own := c.Place()
	if c.Model != nil {
		at, ok = p.ofModel[c.Model]
	} else {
		at, ok = p.ofMaker[c.Maker]
	}
	at.claim += int32(number)
	return at, ok && own
}

// unite joins makers and models that speak of each other. Makers come first,
// then models, in the order of their files.
func (p *plan) unite() union {
	makers, models := p.ref.Makers.All(), p.ref.Models.All()
	u := newUnion(len(makers) + len(models))
	makerNode := make(map[string]int, len(makers))
	for i, m := range makers {
		makerNode[m.ID] = i
	}
	modelNode := sync.OnceValue(func() map[*schema.Model]int {
		at := make(map[*schema.Model]int, len(models))
		for i, m := range models {
			at[m] = len(makers) + i
		}
		return at
	})
	of := func(c *schema.Claim) (n int, ok bool) {
		switch {
		case c == nil:
			return 0, false
		case c.Maker != nil:
			n, ok = makerNode[c.Maker.ID]
			return n, ok && makers[n] == c.Maker
		}
		n, ok = modelNode()[c.Model]
		return n, ok
	}
	orders := func(self int, list []*schema.Order) {
		for _, o := range list {
			for _, c := range [...]*schema.Claim{o.FirstClaim, o.SecondClaim, o.OfClaim} {
				if n, ok := of(c); ok {
					u.join(self, n)
				}
			}
		}
	}
	for i, m := range makers {
		orders(i, m.Order)
	}
	for i, m := range models {
		self := len(makers) + i
		if maker, ok := makerNode[m.Maker.Value]; ok {
			u.join(self, maker)
		}
		orders(self, m.Order)
		for _, r := range m.Related {
			if other, ok := p.ref.Models.Get(r.Model.Value); ok {
				u.join(self, modelNode()[other])
			}
		}
	}
	return u
}

// cites says whether anything in the component cites what skip names.
func (p *component) cites(skip func(schema.Citation) bool) bool {
	if skip == nil {
		return false
	}
	for cite := range p.citations {
		if skip(*cite) {
			return true
		}
	}
	return false
}

// citations yields every citation in favour of what the component's records state.
func (p *component) citations(yield func(*schema.Citation) bool) {
	ok := true
	each := func(list []schema.Citation) bool {
		for i := range list {
			ok = ok && yield(&list[i])
		}
		return ok
	}
	for _, c := range p.claims {
		if !each(c.Cites) {
			return
		}
		for i := range c.Attested {
			if !each(c.Attested[i].Cites) {
				return
			}
		}
	}
	for o := range p.orders {
		if !each(o.Cites) {
			return
		}
	}
	for _, m := range p.models {
		for _, r := range m.Related {
			if !each(r.Cites) {
				return
			}
		}
	}
}

// orders yields the order statements of makers, then of models.
func (p *component) orders(yield func(*schema.Order) bool) {
	for _, m := range p.makers {
		for _, o := range m.Order {
			if !yield(o) {
				return
			}
		}
	}
	for _, m := range p.models {
		for _, o := range m.Order {
			if !yield(o) {
				return
			}
		}
	}
}

// union is a set of disjoint sets, each led by its lowest member.
type union []int

func newUnion(size int) union {
	u := make(union, size)
	for i := range u {
		u[i] = i
	}
	return u
}

func (u union) lead(i int) int {
	for u[i] != i {
		u[i] = u[u[i]]
		i = u[i]
	}
	return i
}

func (u union) join(i, j int) {
	i, j = u.lead(i), u.lead(j)
	u[max(i, j)] = min(i, j)
}
