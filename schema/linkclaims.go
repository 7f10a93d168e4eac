package schema

import (
	"fmt"
	"strings"

	"yearmark/schema/english"
)

// orders resolves what order statements name, in a model's record or a maker's.
func (l *linker) orders(list []*Order, home claimant) {
	for _, o := range list {
		if o.home != home {
			o.home = home
		}
		tie(&o.FirstClaim, l.named(o.First, home))
		tie(&o.SecondClaim, l.named(o.Second, home))
		tie(&o.OfClaim, l.named(o.Of, home))
		l.cites(o.Cites)
		l.cites(o.Against)
		l.opponents(o.Settled, o.Disputed, home)
	}
}

// opponents wants the claims that a settlement or a dispute names.
func (l *linker) opponents(settled *Settlement, disputed Dispute, home claimant) {
	if settled != nil {
		for _, t := range settled.Over {
			l.named(t, home)
		}
	}
	for _, t := range disputed.With {
		l.named(t, home)
	}
}

// tie sets a claim that is not set so already.
func tie(at **Claim, c *Claim) {
	if *at != c {
		*at = c
	}
}

// claimant is a record that makes claims.
type claimant interface {
	Record
	Claims() []*Claim
}

// ClaimsOf gives the claims that a record makes, in its order; none where its kind makes none.
func ClaimsOf(r Record) []*Claim {
	if c, ok := r.(claimant); ok {
		return c.Claims()
	}
	return nil
}

// named finds the claim that an order statement or a settlement names: "claim" or "era-claim"
// in its own record, "model/claim" or "makers/maker/claim" in any.
func (l *linker) named(t Text, home claimant) *Claim {
	if t.Value == "" {
		return nil
	}
	id := t.Value
	if rest, ok := strings.CutPrefix(id, KindMaker.Folder()+"/"); ok && strings.Contains(rest, "/") {
		maker, claim, _ := strings.Cut(rest, "/")
		other, known := l.ref.Makers.Get(maker)
		if !known {
			l.dangling(t.Pos, KindMaker, maker, ids(&l.ref.Makers))
			return nil
		}
		home, id = other, claim
	} else if model, claim, ok := strings.Cut(id, "/"); ok {
		other, known := l.ref.Models.Get(model)
		if !known {
			l.dangling(t.Pos, KindModel, model, ids(&l.ref.Models))
			return nil
		}
		home, id = other, claim
	}
	index := l.claimsOf(home)
	if c, ok := index[id]; ok {
		return c
	}
	known := func() []string { return claimNames(home) }
	p := Problem{Check: CheckDangling, Pos: t.Pos, Message: fmt.Sprintf("the %s %q has no claim %q", home.Header().Kind, home.Header().ID, english.Clip(id, 60)), Missing: home.Header().File}
	p.Help = "Give the claim that is meant an id, and write that id here; a claim of another record is written model/claim or makers/maker/claim."
	l.pending = append(l.pending, pending{p, id, known})
	return nil
}

// claimsOf indexes a record's claims by what order statements call them.
func (l *linker) claimsOf(m claimant) map[string]*Claim {
	if index, ok := l.claims[m]; ok {
		return index
	}
	list := m.Claims()
	index := make(map[string]*Claim, len(list))
	for _, c := range list {
		index[c.Anchor()] = c
	}
	for _, c := range list {
		index[c.ID.Value] = c
	}
	l.claims[m] = index
	return index
}

func claimNames(m claimant) []string {
	var all []string
	for _, c := range m.Claims() {
		all = append(all, c.ID.Value)
		if c.About == AboutEra {
			all = append(all, c.Anchor())
		}
	}
	return all
}
