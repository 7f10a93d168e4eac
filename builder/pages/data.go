package pages

import (
	"cmp"
	"slices"
	"strings"

	"yearmark/schema"
)

// dataView lists the files for those who reuse the data.
type dataView struct {
	Base    base
	Licence string
	Address string
	Dating  string // the way to the dating tables' manifest, or empty
	Search  string
	Files   []dataLine
}

// dataLine is one file and what it holds.
type dataLine struct {
	anchor
	About string
}

func (p *page) data() dataView {
	v := dataView{
		Base:    p.base("Data", "The register as data: what is where, and under which licence.", ""),
		Licence: p.ref.Settings.Licence.Value, Address: p.ref.Settings.PublicURL.Value,
		Dating: p.datingManifest(), Search: p.searchRoot(),
	}
	for _, f := range p.facts.Data {
		v.Files = append(v.Files, dataLine{anchor{p.to(f.Name), strings.TrimPrefix(f.Name, "data/")}, f.About})
	}
	return v
}

// editionsView says which state of the register this is.
type editionsView struct {
	Base      base
	Withdrawn []withdrawnLine
	Settled   []settledLine
}

type withdrawnLine struct {
	Model       anchor
	ID, Because string
	On          string
}

type settledLine struct {
	Claim       anchor
	Because, On string
}

func (p *page) editions() editionsView {
	v := editionsView{Base: p.base("Editions", "Which state of the register this is, and what was decided and withdrawn.", "")}
	for _, m := range p.ref.Models.All() {
		for _, w := range m.Withdrawn {
			v.Withdrawn = append(v.Withdrawn, withdrawnLine{anchor{p.to(m.Address()) + "#" + w.ID.Value, m.Title()}, w.ID.Value, w.Because.Value, w.On.String()})
		}
		v.Settled = p.settledLines(v.Settled, m.Claims())
	}
	for _, m := range p.ref.Makers.All() {
		v.Settled = p.settledLines(v.Settled, m.Claims())
	}
	sortByDay(v.Settled)
	return v
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
