package chronology

import (
	"math"
	"slices"

	"yearmark/chronology/network"
	"yearmark/schema"
)

// kind is what a statement says.
type kind uint8

const (
	spanned   kind = iota // the span of a claim
	attested              // a sighting
	dated                 // an era referred to
	issued                // a source that tells of a claim
	related               // one of the thirteen relations
	lasted                // how many years
	succeeded             // a model after another
)

// statement is one thing that the records say of years: what a tag of the network stands for.
type statement struct {
	kind  kind
	nth   int32           // which attestation or citation of the claim
	claim *schema.Claim   // whom it is about; of a succession, the successor's made span
	other *schema.Claim   // of a succession, the predecessor's made span
	order *schema.Order   // related and lasted
	tie   *schema.Related // succeeded
}

// said is a statement as a group keeps it: there are several for each claim.
type said struct {
	kind  kind
	nth   int32
	claim int32 // its number in the component
	bond  int32 // the place in the group's bonds of what says so, or none
}

// bond is what a statement about several claims is made by.
type bond struct {
	other *schema.Claim
	order *schema.Order
	tie   *schema.Related
}

// say notes a statement that a claim makes of itself and gives its tag.
func (g *group) say(kind kind, claim, nth int) network.Tag {
	g.statements = append(g.statements, said{kind, int32(nth), int32(claim), none})
	return network.Tag(len(g.statements))
}

// tie notes a statement that a bond makes about a claim.
func (g *group) tie(kind kind, claim int, b bond) network.Tag {
	g.bonds = append(g.bonds, b)
	g.statements = append(g.statements, said{kind, 0, int32(claim), int32(len(g.bonds) - 1)})
	return network.Tag(len(g.statements))
}

// statement gives what a tag stands for.
func (g *group) statement(t network.Tag) *statement {
	kept := g.statements[t-1]
	s := &statement{kind: kept.kind, nth: kept.nth, claim: g.component.claims[kept.claim]}
	if kept.bond != none {
		b := g.bonds[kept.bond]
		s.other, s.order, s.tie = b.other, b.order, b.tie
	}
	return s
}

// cites gives the citations for the statement.
func (s *statement) cites() []schema.Citation {
	switch s.kind {
	case spanned, dated:
		return s.claim.Cites
	case attested:
		return s.claim.Attested[s.nth].Cites
	case issued:
		return s.claim.Cites[s.nth : s.nth+1]
	case related, lasted:
		return s.order.Cites
	case succeeded:
		return s.tie.Cites
	}
	return nil
}

// pos gives the place in the records where the statement is made.
func (s *statement) pos() schema.Pos {
	written := schema.Pos{}
	switch s.kind {
	case spanned:
		written = s.claim.Span.Pos
	case attested:
		written = s.claim.Attested[s.nth].Pos
	case dated:
		written = s.claim.Era.Pos
	case issued:
		written = s.claim.Cites[s.nth].Pos
	case related, lasted:
		return s.order.Pos
	case succeeded:
		return s.tie.Pos
	}
	if written.IsZero() {
		return s.claim.Pos
	}
	return written
}

// decision is what was decided of the claim or order that makes the statement.
func (s *statement) decision() schema.Decision {
	switch s.kind {
	case related, lasted:
		return s.order.Decision()
	case succeeded:
		return schema.Decision{}
	}
	return s.claim.Decision()
}

// covers says that what was decided of one statement is about another.
func (s *statement) covers(t *statement) bool {
	var named *schema.Claim
	if t.order == nil && t.tie == nil {
		named = t.claim
	}
	return s.decision().Covers(named, t.cites())
}

// settled says that the editor has decided for the claim or order that makes the statement.
func (s *statement) settled() bool {
	switch s.kind {
	case related, lasted:
		return s.order.Settled != nil
	case succeeded:
		return false
	}
	return s.claim.Settled != nil
}

// disputed says that the claim or order that makes the statement is marked as disputed.
func (s *statement) disputed() bool {
	switch s.kind {
	case related, lasted:
		return s.order.Disputed.Value
	case succeeded:
		return false
	}
	return s.claim.Disputed.Value
}

// The weaknesses of statements: how readily they are set aside. Between
// standing and uncited lie the hundredths by which the best source cited
// falls short of certainty.
const (
	standing = iota // settled
	cited
	uncited    = cited + 101
	overturned = uncited + 1 // disputed, or set aside by a settlement
)

// weakness says how readily a statement is set aside.
func (g *group) weakness(s *statement) int {
	switch {
	case s.disputed():
		return overturned
	case s.settled():
		return standing
	case g.setAside(s):
		return overturned
	}
	best := -1.0
	for _, c := range s.cites() {
		best = max(best, g.plan.credence(c))
	}
	if best < 0 {
		return uncited
	}
	return cited + int(math.Round(100*(1-best)))
}

// credence is how far a citation is believed by its kind, or its source's own
// credence: of the places that it covers the most; a source that is not there
// counts as a recollection.
func (p *plan) credence(c schema.Citation) float64 {
	s, ok := p.ref.Sources.Get(c.Source)
	if !ok {
		if _, example := c.ExampleID(); example {
			return p.ref.KindCredence(schema.ExaminedExample)
		}
		return p.ref.KindCredence(schema.Recollection)
	}
	places := s.PlacesAt(c.Place)
	if len(places) == 0 {
		return p.ref.SourceCredence(s)
	}
	best := 0.0
	for _, place := range places {
		if place.CorrectedAt.Value == "" {
			best = max(best, p.ref.PlaceCredence(s, place))
		}
	}
	return best
}

// matter is what a settlement was about.
type matter struct {
	model   *schema.Model
	maker   *schema.Maker
	feature string
}

func matterOf(c *schema.Claim) matter { return matter{c.Model, c.Maker, c.FeatureID()} }

// setAside says that all citations of the statement were set aside by settlements about the same matter.
func (g *group) setAside(s *statement) bool {
	if g.overruled == nil {
		g.overruled = map[matter][]schema.Citation{}
		for _, c := range g.component.claims {
			if c.Settled != nil {
				g.overrule(c, c.Against)
			}
		}
		for o := range g.component.orders {
			if o.Settled != nil {
				for _, c := range subjects(o) {
					g.overrule(c, o.Against)
				}
			}
		}
	}
	about := []*schema.Claim{s.claim}
	if s.order != nil {
		about = subjects(s.order)
	}
	cites := s.cites()
	for _, cite := range cites {
		over := false
		for _, c := range about {
			over = over || slices.ContainsFunc(g.overruled[matterOf(c)], cite.Within)
		}
		if !over {
			return false
		}
	}
	return len(cites) > 0
}

func (g *group) overrule(c *schema.Claim, against []schema.Citation) {
	g.overruled[matterOf(c)] = append(g.overruled[matterOf(c)], against...)
}

// subjects lists the claims that an order is about.
func subjects(o *schema.Order) []*schema.Claim {
	var list []*schema.Claim
	for _, c := range [...]*schema.Claim{o.FirstClaim, o.SecondClaim, o.OfClaim} {
		if c != nil {
			list = append(list, c)
		}
	}
	return list
}
