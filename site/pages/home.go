package pages

import (
	"cmp"
	"slices"

	"yearmark/schema"
	"yearmark/schema/edtf"
	"yearmark/schema/english"
	"yearmark/site/charts"
)

// homeView is the first page.
type homeView struct {
	Base      base
	Name      string
	About     string
	AboutHref string
	Chart     *chartView
	Tally     []tallyView
	Makers    []cardView
	Bows      []exampleLine
	Open      []openLine
	OpenCount int
	Reading   []cardView
	Plate     *cardView
	Tables    string // the way to the folder of the engine's tables, or empty
}

// aboutID is the page of a reference that says what it is.
const aboutID = "about"

// How many bows, and open questions of each kind, the first page shows.
const (
	firstShown   = 8
	firstOfAKind = 2
)

func (p *page) home() homeView {
	r := p.ref
	v := homeView{Name: r.Settings.Name.Value, Plate: p.frontPlate()}
	if about, ok := r.Pages.Get(aboutID); ok {
		v.About, v.AboutHref = about.About.Value, p.to(about.Address())
	}
	claims := 0
	for _, m := range r.Models.All() {
		claims += len(m.Claims())
	}
	for _, m := range r.Makers.All() {
		claims += len(m.Claims())
	}
	bows := reviewed(r.Examples.All())
	v.Tally = []tallyView{
		{r.Makers.Len(), english.Plural(r.Makers.Len(), "maker", "makers"), "makers/index.html"},
		{r.Models.Len(), english.Plural(r.Models.Len(), "model", "models"), "models/index.html"},
		{claims, english.Plural(claims, "dated claim", "dated claims"), "models/index.html"},
		{r.Sources.Len(), english.Plural(r.Sources.Len(), "source", "sources"), "sources/index.html"},
		{bows, english.Plural(bows, "bow examined", "bows examined"), "examples/index.html"},
	}
	v.Chart = p.homeChart()
	for _, e := range p.documents() {
		if e.ID != aboutID {
			v.Reading = append(v.Reading, cardView{anchor: anchor{p.to(e.Address()), e.Title()}, Under: e.About.Value})
		}
	}
	v.Bows = p.exampleLines(p.pictured(firstShown))
	v.Open, v.OpenCount = p.firstQuestions()
	v.Base = p.base(v.Name, v.About, "")
	v.Base.Path = ""
	if v.Tables = p.datingTables(); v.Tables != "" {
		v.Base.Scripts = scripts("number.js")
	}
	return v
}

// firstQuestions gives the first questions of every kind, and how many there are.
func (p *page) firstQuestions() (lines []openLine, count int) {
	var first []asking
	for _, of := range p.asked() {
		first = append(first, of.most[:min(len(of.most), firstOfAKind)]...)
		count += of.count
	}
	slices.SortFunc(first, compareAskings)
	for _, a := range first {
		lines = append(lines, p.question(a).openLine)
	}
	return lines, count
}

// frontPlate is the model with a drawing of which most bows were examined.
func (p *page) frontPlate() *cardView {
	var best *schema.Model
	for _, m := range p.ref.Models.All() {
		if p.picture(m.Picture.Value) != "" && (best == nil || len(p.seen()[m.ID]) > len(p.seen()[best.ID])) {
			best = m
		}
	}
	if best == nil {
		return nil
	}
	card := &p.modelCards([]*schema.Model{best})[0]
	if best.Plate != nil {
		card.Picture = cmp.Or(p.picture(best.Plate.Picture.Value), card.Picture)
	}
	return card
}

// pictured gives the first examples with a picture.
func (p *page) pictured(most int) []*schema.Example {
	var list []*schema.Example
	for _, e := range p.ref.Examples.All() {
		if len(list) == most {
			break
		}
		if len(e.Pictures) > 0 && p.picture(e.Pictures[0].File.Value) != "" {
			list = append(list, e)
		}
	}
	return list
}

// homeChart draws every maker's models; of a large reference only the makers.
func (p *page) homeChart() *chartView {
	if p.ref.Models.Len() > mostLines {
		return p.tradeChart(p.ref.Makers.All())
	}
	var ranges []edtf.Range
	for _, m := range p.ref.Models.All() {
		ranges = append(ranges, p.span(m))
	}
	c := p.newChart("Who made what, and when", charts.AxisOver(p.ref.Horizon(), ranges...), "Maker", "Model", "Made")
	for _, maker := range p.ref.Makers.All() {
		var made []*schema.Claim
		for _, m := range p.byMade(p.built()[maker.ID]) {
			if m.Made != nil {
				made = append(made, m.Made)
			}
		}
		if len(made) > 0 {
			c.row(maker.Title(), p.to(maker.Address()), made, nil, func(c *schema.Claim) string { return c.Model.Title() })
		}
	}
	return c.done()
}

// tradeChart draws when makers traded.
func (p *page) tradeChart(makers []*schema.Maker) *chartView {
	c := p.newChart("When the makers traded", charts.AxisOver(p.ref.Horizon(), p.ref.Horizon()), "Maker", "What", "Years")
	for _, m := range makers[:min(len(makers), mostLines)] {
		if m.Trading != nil {
			c.row(m.Title(), p.to(m.Address()), []*schema.Claim{m.Trading}, nil, p.years)
		}
	}
	return c.done()
}
