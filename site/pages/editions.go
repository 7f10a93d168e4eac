package pages

import (
	"cmp"
	"slices"

	"yearmark/schema"
)

// editionsView says which state of the register this is.
type editionsView struct {
	Base      base
	Changed   *changedView // nil where no earlier edition was named
	Withdrawn []withdrawnLine
	Settled   []settledLine
}

// changedView is what changed since an earlier edition.
type changedView struct {
	Since string // that edition
	Parts []changedPart
	Href  string // all of it as data, or empty
}

// changedPart is the changes of one kind.
type changedPart struct {
	ID, Name string
	Count    int
	Lines    []changedLine
	More     int // changes beyond those listed
}

// changedLine is one change. Mark and How say the same, for eyes and for ears.
type changedLine struct {
	Mark, How  string
	What, Href string
	Words      string
}

// mostChanges is how many changes of one kind the page lists.
const mostChanges = 150

// changesPath is where all changes stand as data.
const changesPath = "data/changes.json"

// howWords says what a mark before a change means.
var howWords = map[string]string{"+": "new", "−": "gone", "~": "changed"}

func (p *page) changed() *changedView {
	c := p.facts.Changes
	if c == nil {
		return nil
	}
	v := &changedView{Since: c.Old.Edition}
	if _, ok := p.Large(changesPath); ok {
		v.Href = p.to(changesPath)
	}
	for i, part := range c.Published() {
		view := changedPart{ID: "Changed-" + number(i+1), Name: part.Name, Count: len(part.Entries)}
		for _, e := range part.Entries[:min(len(part.Entries), mostChanges)] {
			line := changedLine{Mark: e.Sign, How: howWords[e.Sign], What: e.Title, Words: e.Words}
			switch {
			case e.Check != "":
				line.Href = p.to("checks.html#" + e.Check)
			case e.Address != "":
				line.Href = p.to(e.Address)
			}
			view.Lines = append(view.Lines, line)
		}
		view.More = view.Count - len(view.Lines)
		v.Parts = append(v.Parts, view)
	}
	return v
}

type withdrawnLine struct {
	Of          anchor // the record
	ID, Because string
	On          string
}

type settledLine struct {
	Claim       anchor
	Because, On string
}

func (p *page) editions() editionsView {
	v := editionsView{
		Base:    p.base("Editions", "Which state of the register this is, what changed in it, and what was decided and withdrawn.", ""),
		Changed: p.changed(),
	}
	for _, m := range p.ref.Models.All() {
		v.Withdrawn = append(v.Withdrawn, p.withdrawnLines(m, m.Withdrawn)...)
		v.Settled = p.settledLines(v.Settled, m.Claims())
	}
	for _, m := range p.ref.Makers.All() {
		v.Withdrawn = append(v.Withdrawn, p.withdrawnLines(m, m.Withdrawn)...)
		v.Settled = p.settledLines(v.Settled, m.Claims())
	}
	sortByDay(v.Settled)
	return v
}

func (p *page) withdrawnLines(of schema.Record, notes []*schema.Withdrawn) []withdrawnLine {
	var list []withdrawnLine
	for _, w := range notes {
		list = append(list, withdrawnLine{anchor{p.to(of.Address()) + "#" + w.ID.Value, of.Title()}, w.ID.Value, w.Because.Value, w.On.String()})
	}
	return list
}

func (p *page) settledLines(list []settledLine, claims []*schema.Claim) []settledLine {
	for _, c := range claims {
		if c.Settled != nil {
			list = append(list, settledLine{anchor{p.to(c.Address()), p.whole(c)}, c.Settled.Because.Value, c.Settled.On.String()})
		}
	}
	return list
}

// sortByDay puts the newest settlement first.
func sortByDay(list []settledLine) {
	slices.SortStableFunc(list, func(a, b settledLine) int { return cmp.Compare(b.On, a.On) })
}
