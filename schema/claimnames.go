package schema

import (
	"fmt"
	"strconv"
	"strings"

	"yearmark/schema/english"
)

// nameClaims gives every claim of a record its identifier and refuses one
// that stands for two.
//
// A claim without an id of its own is named after what it says, by madeID; the
// second of one name, in the record's order, has -2 at its end, the third -3.
// An identifier that the record gives, or that a withdrawn claim had, is never
// made up a second time. A made identifier therefore stays the same as long as
// the claims of the same feature and value that stand before it do: whoever
// puts another one in between gives ids first.
func (d *decoder) nameClaims(list []*Claim, withdrawn []*Withdrawn) {
	taken := make(map[string]Pos, 2*len(list))
	for _, c := range list {
		if fixed := c.About == AboutMade || c.About == AboutTrading; fixed {
			c.ID.Value = string(c.About)
			taken[c.ID.Value] = c.Pos
		}
	}
	for _, c := range list {
		if !c.ID.Pos.IsZero() {
			d.ownName(c, taken)
		}
	}
	for _, w := range withdrawn {
		id := strings.TrimPrefix(w.ID.Value, "era-")
		if w.ID.Value != "" && !isIdentifier(w.ID.Value) {
			d.noIdentifier(w.ID)
			continue
		}
		if at, both := taken[id]; both && !w.ID.Pos.IsZero() {
			d.report(CheckDuplicate, w.ID.Pos, fmt.Sprintf("the withdrawn claim %q is still made", w.ID.Value), "Give the claim that is still made an id of its own, or delete the entry under withdrawn.", Place{at, "it is still made here"})
		}
		taken[w.ID.Value], taken[id] = w.ID.Pos, w.ID.Pos
	}
	counts := map[string]int{}
	for _, c := range list {
		if c.ID.Value == "" {
			c.ID.Value = freeName(c, taken, counts)
			taken[c.ID.Value], taken[c.Anchor()] = c.Pos, c.Pos
		}
	}
}

// ownName takes the id that a record gives, or drops one that will not do.
func (d *decoder) ownName(c *Claim, taken map[string]Pos) {
	id := c.ID
	at, both := taken[id.Value]
	if !both {
		at, both = taken[c.Anchor()]
	}
	switch {
	case !isIdentifier(id.Value):
		d.noIdentifier(id)
		c.ID = Text{}
		return
	case both:
		d.report(CheckDuplicate, id.Pos, fmt.Sprintf("the id %q stands for two claims", id.Value), "Give one of them another id; keep the one that was published first.", Place{at, "the other claim is here"})
		c.ID = Text{}
		return
	}
	taken[id.Value], taken[c.Anchor()] = id.Pos, id.Pos
}

func (d *decoder) noIdentifier(id Text) {
	help := "Write small letters a to z, digits and hyphens."
	if s := Slug(id.Value); isIdentifier(s) {
		help = fmt.Sprintf("Write id: %s.", s)
	}
	d.report(CheckBadIdentifier, id.Pos, fmt.Sprintf("the id %q is no identifier", english.Clip(id.Value, 60)), help)
	if s := Slug(id.Value); isIdentifier(s) {
		d.offer(instead(id.Pos, id.Value, s))
	}
}

// freeName numbers a made name until nothing else has it. The counts are how
// far the numbering of each name has come.
func freeName(c *Claim, taken map[string]Pos, counts map[string]int) string {
	const longest = maxIdentifier - 10
	made := c.madeID()
	if len(made) > longest {
		made = strings.TrimRight(made[:longest], "-")
	}
	if made == "" {
		made = string(c.About)
	}
	for {
		name := made
		if counts[made]++; counts[made] > 1 {
			name = made + "-" + strconv.Itoa(counts[made])
		}
		_, isID := taken[name]
		_, isAnchor := taken["era-"+name]
		if !isID && !(c.About == AboutEra && isAnchor) {
			return name
		}
	}
}
