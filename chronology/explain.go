package chronology

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"yearmark/chronology/network"
	"yearmark/schema"
	"yearmark/schema/edtf"
)

// Step is one statement of an explanation.
type Step struct {
	Sentence string            // "the oval mark is shown in 1968 (List of 1968, cover)"
	Fact     string            // the same without the citations
	Claim    *schema.Claim     // whom it is about; nil where it is about the horizon
	Order    *schema.Order     // the order statement that it is, or nil
	Pos      schema.Pos        // where it is stated
	Cites    []schema.Citation // who says so
}

// run is one statement with those of its edges that an explanation uses.
type run struct {
	tag   network.Tag
	edges []network.Edge
}

// runs gathers edges by statement, in the order in which the statements are
// first needed. Of what holds whatever the records say only the horizon is
// kept; the rest goes without saying.
func (g *group) runs(edges []network.Edge) []run {
	var list []run
	for _, e := range edges {
		if e.Tag == network.Given && e.From != network.Origin && e.To != network.Origin {
			continue
		}
		n := slices.IndexFunc(list, func(r run) bool { return r.tag == e.Tag })
		if n < 0 {
			n = len(list)
			list = append(list, run{tag: e.Tag})
		}
		list[n].edges = append(list[n].edges, e)
	}
	return list
}

// steps tells runs in their order.
func (g *group) steps(runs []run) []Step {
	name := g.naming(runs)
	list := make([]Step, len(runs))
	for i, r := range runs {
		if r.tag == network.Given {
			list[i] = g.horizonStep()
			continue
		}
		s := g.statement(r.tag)
		fact := g.fact(s, r.edges, name)
		list[i] = Step{
			Sentence: fact + g.plan.names().cited(s.cites()), Fact: fact,
			Claim: s.claim, Order: s.order, Pos: s.pos(), Cites: s.cites(),
		}
	}
	return list
}

// horizonStep says that nothing falls outside the horizon.
func (g *group) horizonStep() Step {
	fact := fmt.Sprintf("the reference covers the years %d to %d only", g.plan.horizon.First, g.plan.horizon.Last)
	return Step{Sentence: fact, Fact: fact, Pos: g.plan.ref.Settings.Years.Pos}
}

// naming gives the way to name claims: with their models, and their maker,
// where the runs speak of several.
func (g *group) naming(runs []run) func(*schema.Claim) string {
	var of []schema.Record
	for _, r := range runs {
		if r.tag == network.Given {
			continue
		}
		for _, c := range [...]*schema.Claim{g.statement(r.tag).claim, g.statement(r.tag).other} {
			if r := ownerOf(c); r != nil && !slices.Contains(of, r) {
				of = append(of, r)
			}
		}
	}
	if len(of) > 1 {
		return g.plan.names().of
	}
	return g.plan.names().claim
}

// ownerOf gives the model that a claim is about, or the maker of all whose
// models it speaks; nil for others.
func ownerOf(c *schema.Claim) schema.Record {
	switch {
	case c == nil:
	case c.Model != nil:
		return c.Model
	case c.FeatureID() != "":
		return c.Maker
	}
	return nil
}

// fact says what a statement says, as far as the edges use it.
func (g *group) fact(s *statement, edges []network.Edge, name func(*schema.Claim) string) string {
	switch s.kind {
	case spanned:
		return g.spanFact(s.claim, edges, name)
	case attested:
		return fmt.Sprintf("%s is shown in %d", name(s.claim), s.claim.Attested[s.nth].Year.Value)
	case dated:
		n, _ := g.number(s.claim)
		return fmt.Sprintf("%s has the years of %s", name(s.claim), name(g.component.claims[g.claims[n].era]))
	case issued:
		year := g.plan.issued[s.claim.Cites[s.nth].Source]
		return fmt.Sprintf("%s is told of in %d, so it starts in %d at the latest", name(s.claim), year, year+1)
	case lasted:
		return fmt.Sprintf("%s lasted %s", name(s.claim), lengthOf(s.order))
	case related:
		return relationFact(s.order.How.Value, name(s.claim), name(s.other))
	}
	return fmt.Sprintf("%s succeeded %s", name(s.claim), name(s.other))
}

// lengthOf words the length that an order states: "2 to 3 years".
func lengthOf(o *schema.Order) string {
	lo, hi := strconv.FormatFloat(o.Lasts.Low, 'f', -1, 64), strconv.FormatFloat(o.Lasts.High, 'f', -1, 64)
	switch {
	case lo == "1" && hi == "1":
		return "one year"
	case lo == hi:
		return lo + " years"
	}
	return lo + " to " + hi + " years"
}

// relationFact words the thirteen relations.
func relationFact(how, a, b string) string {
	switch schema.Relation(how) {
	case schema.Before:
		return fmt.Sprintf("at least a year passes between the end of %s and the start of %s", a, b)
	case schema.Meets:
		return fmt.Sprintf("%s starts the year after %s ends", b, a)
	case schema.Overlaps:
		return fmt.Sprintf("%s starts before %s, ends before it and shares a year with it", a, b)
	case schema.FinishedBy:
		return fmt.Sprintf("%s starts before %s and ends with it", a, b)
	case schema.Contains:
		return fmt.Sprintf("%s starts before %s and ends after it", a, b)
	case schema.Starts:
		return fmt.Sprintf("%s starts with %s and ends before it", a, b)
	case schema.Equals:
		return fmt.Sprintf("%s has the same years as %s", a, b)
	case schema.StartedBy:
		return fmt.Sprintf("%s starts with %s and ends after it", a, b)
	case schema.During:
		return fmt.Sprintf("%s starts after %s and ends before it", a, b)
	case schema.Finishes:
		return fmt.Sprintf("%s starts after %s and ends with it", a, b)
	case schema.OverlappedBy:
		return fmt.Sprintf("%s starts after %s, ends after it and shares a year with it", a, b)
	case schema.MetBy:
		return fmt.Sprintf("%s starts the year after %s ends", a, b)
	}
	return fmt.Sprintf("at least a year passes between the end of %s and the start of %s", b, a)
}

// spanFact says what a claim's span says, as far as the edges use it: "the
// oval mark is claimed from 1964 until 1966".
func (g *group) spanFact(c *schema.Claim, edges []network.Edge, name func(*schema.Claim) string) string {
	n, _ := g.number(c)
	y := g.stated(n)
	does := g.does(c, name)
	switch {
	case y.Choice == edtf.OneOf:
		return does + oneOf(y)
	case y.A == y.D:
		return fmt.Sprintf("%s in %d only", does, y.A)
	}
	start, until := g.used(n, edges)
	return does + start.String() + until.String()
}

// does gives the subject and the verb for a claim's span.
func (g *group) does(c *schema.Claim, name func(*schema.Claim) string) string {
	switch c.About {
	case schema.AboutMade:
		return name(c) + " was made"
	case schema.AboutTrading:
		return name(c) + " traded"
	case schema.AboutOwner:
		return orID(c.Name.Value, c.ID.Value) + " owned " + g.plan.names().maker(c.Maker)
	case schema.AboutEra:
		return name(c) + " runs"
	}
	return name(c) + " is claimed"
}

// oneOf words one year of several.
func oneOf(y edtf.Years) string {
	switch {
	case y.A == y.D:
		return fmt.Sprintf(" in %d only", y.A)
	case y.Members == nil || len(y.Members) > 5 || len(y.Members) == y.D-y.A+1:
		return fmt.Sprintf(" in one year from %d to %d", y.A, y.D)
	}
	words := make([]string, len(y.Members))
	for i, m := range y.Members {
		words[i] = strconv.Itoa(m)
	}
	last := len(words) - 1
	return " in one year, " + strings.Join(words[:last], ", ") + " or " + words[last]
}

// limb is one end of a span in words, as far as an explanation uses it.
type limb struct {
	word        string // from, until
	atLeast     string // how a lower bound is worded
	first, last int    // the years in which it can lie
	least, most bool   // which of its bounds are used
	with        string // what it starts or ends with, where it is written ".."
}

func (l limb) String() string {
	switch {
	case l.with != "":
		return fmt.Sprintf(" %s the %s", l.word, l.with)
	case l.first == l.last && (l.least || l.most):
		return fmt.Sprintf(" %s %d", l.word, l.first)
	case l.least && l.most:
		return fmt.Sprintf(" %s %d–%d", l.word, l.first, l.last)
	case l.least:
		return fmt.Sprintf(" %s %d at %s", l.word, l.first, l.atLeast)
	case l.most:
		return fmt.Sprintf(" %s %d at the latest", l.word, l.last)
	}
	return ""
}

// used gives both ends of a span as far as the edges use them.
func (g *group) used(n int, edges []network.Edge) (start, until limb) {
	c, at, stated := &g.claims[n], interval(n), g.stated(n)
	start = limb{word: "from", atLeast: "the earliest", first: stated.A, last: stated.B}
	until = limb{word: "until", atLeast: "least", first: stated.C, last: stated.D}
	for _, e := range edges {
		switch {
		case e.From == at.Start && e.To == network.Origin:
			start.least = true
		case e.From == network.Origin && e.To == at.Start:
			start.most = true
		case e.From == at.End && e.To == network.Origin:
			until.least = true
		case e.From == network.Origin && e.To == at.End:
			until.most = true
		case c.openStart && e.To == at.Start:
			start.with = "beginning of " + g.plan.names().claim(g.component.claims[c.holder])
		case c.openEnd && e.From == at.End:
			until.with = "end of " + g.plan.names().claim(g.component.claims[c.holder])
		}
	}
	return start, until
}
