package schema

import (
	"slices"
	"strings"
)

// Decision is what an editor decided of a claim or an order: settled, or left
// open as a dispute.
type Decision struct {
	home     claimant // whose record holds it
	Against  []Citation
	Settled  *Settlement
	Disputed Dispute
}

// Decision is what was decided of the claim.
func (c *Claim) Decision() Decision { return Decision{c.home(), c.Against, c.Settled, c.Disputed} }

// Decision is what was decided of the order.
func (o *Order) Decision() Decision { return Decision{o.home, o.Against, o.Settled, o.Disputed} }

// Covers says whether the decision is about an opponent that cites these: all
// that it cites stands under against, or a settlement or dispute names its
// claim, which may be nil. A decision covers no other.
func (d Decision) Covers(opponent *Claim, cites []Citation) bool {
	if d.Settled == nil && !d.Disputed.Value {
		return false
	}
	if len(cites) > 0 && !slices.ContainsFunc(cites, func(c Citation) bool { return !d.sets(c) }) {
		return true
	}
	return opponent != nil && d.Names(opponent)
}

// sets says whether a citation is one of those against.
func (d Decision) sets(c Citation) bool {
	return slices.ContainsFunc(d.Against, func(against Citation) bool { return c.Within(against) })
}

// Names says whether the settlement or the dispute names a claim.
func (d Decision) Names(c *Claim) bool { return slices.ContainsFunc(d.Opponents(), d.means(c)) }

// Opponents gives the names of the claims that the settlement or the dispute is about.
func (d Decision) Opponents() []Text {
	if d.Settled != nil {
		return d.Settled.Over
	}
	return d.Disputed.With
}

// Means says whether a name in the decision is that of a claim.
func (d Decision) Means(name Text, c *Claim) bool { return d.means(c)(name) }

func (d Decision) means(c *Claim) func(Text) bool {
	home := c.home()
	of := home.Header().ID + "/"
	if home.Header().Kind == KindMaker {
		of = KindMaker.Folder() + "/" + of
	}
	return func(name Text) bool {
		switch name.Value {
		case of + c.ID.Value, of + c.Anchor():
			return true
		case c.ID.Value, c.Anchor():
			return d.home == home
		}
		return false
	}
}

// OpponentClaims gives the claims that the settlement or the dispute names.
func (r *Reference) OpponentClaims(d Decision) []*Claim {
	var list []*Claim
	for _, name := range d.Opponents() {
		home := d.home
		if id, ok := strings.CutPrefix(name.Value, KindMaker.Folder()+"/"); ok {
			id, _, _ = strings.Cut(id, "/")
			if maker, known := r.Makers.Get(id); known {
				home = maker
			}
		} else if id, _, ok := strings.Cut(name.Value, "/"); ok {
			if model, known := r.Models.Get(id); known {
				home = model
			}
		}
		for _, c := range home.Claims() {
			if d.Means(name, c) {
				list = append(list, c)
				break
			}
		}
	}
	return list
}

// Record is the record that makes the claim.
func (c *Claim) Record() Record { return c.home() }

func (c *Claim) home() claimant {
	if c.Maker != nil {
		return c.Maker
	}
	return c.Model
}
