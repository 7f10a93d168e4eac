package pages

import (
	"cmp"
	"slices"

	"yearmark/schema"
	"yearmark/schema/edtf"
	"yearmark/schema/english"
	"yearmark/site/charts"
)

// chartView is a chart of years: a ruler, rows of bands, a legend, and the
// same as a table.
type chartView struct {
	Title  string
	Axis   charts.Axis
	Rows   []chartRow
	Legend []legendEntry
	Head   []string // of the table
}

type chartRow struct {
	Href string
	charts.Row
	Said []bandWords // of each band, for the table
}

type bandWords struct{ What, Years string }

type legendEntry struct {
	Sign, Text string
}

// barsView is a chart of odds, year by year.
type barsView struct {
	axis        charts.Axis
	chances     []charts.Chance
	description string
}

// chart gathers rows over one axis.
type chart struct {
	page  *page
	view  chartView
	marks marks
	on    *schema.Model // whose years a maker's claims are cut to; nil for none
}

// years gives those of a claim as the chart draws them.
func (c *chart) years(of *schema.Claim) edtf.Years {
	if c.on != nil {
		return c.page.facts.Timeline.YearsOn(of, c.on)
	}
	return c.page.facts.Timeline.Years(of)
}

// marks is what a chart has used and its legend must explain.
type marks struct{ faded, disputed, derived, sighted, gap bool }

func (p *page) newChart(title string, axis charts.Axis, head ...string) *chart {
	return &chart{page: p, view: chartView{Title: title, Axis: axis, Head: head}}
}

// row adds one row with a band for each claim. label words a band beside it.
func (c *chart) row(name, href string, claims []*schema.Claim, gaps []edtf.Range, label func(*schema.Claim) string) {
	row := chartRow{
		Href: href, Row: charts.Row{Name: name, Gaps: gaps, Bands: make([]charts.Band, 0, len(claims))},
		Said: make([]bandWords, 0, len(claims)),
	}
	for _, claim := range c.page.inOrder(claims) {
		label := label(claim)
		said := bandWords{cmp.Or(label, c.page.what(claim)), yearsWords(c.years(claim))}
		row.Class = bandClasses[claim.About]
		row.Bands, row.Said = append(row.Bands, c.band(claim, label, said)), append(row.Said, said)
	}
	c.marks.gap = c.marks.gap || len(gaps) > 0
	c.view.Rows = append(c.view.Rows, row)
}

func (c *chart) band(claim *schema.Claim, label string, said bandWords) charts.Band {
	p := c.page
	years := c.years(claim)
	b := charts.Band{
		Years: years, Label: label, Href: p.claimHref(claim),
		Disputed: claim.Disputed.Value, Only: claim.Only.Value,
	}
	for _, a := range claim.Attested {
		b.Sightings = append(b.Sightings, a.Year.Value)
	}
	if (claim.Maker == nil || c.on == nil) && p.facts.Timeline.Derived(claim) {
		stated := p.facts.Timeline.Stated(claim)
		b.FromChain = stated.A != years.A || stated.B != years.B
		b.ToChain = stated.C != years.C || stated.D != years.D
	}
	b.Title = said.What + ", " + said.Years
	if remark := remarks(b); remark != "" {
		b.Title += " (" + remark + ")"
	}
	c.note(b)
	return b
}

// note remembers what the legend must explain.
func (c *chart) note(b charts.Band) {
	y := b.Years
	c.marks.faded = c.marks.faded || y.A != y.B || y.C != y.D
	c.marks.disputed = c.marks.disputed || b.Disputed
	c.marks.derived = c.marks.derived || b.FromChain || b.ToChain
	c.marks.sighted = c.marks.sighted || len(b.Sightings) > 0
}

// remarks says in words what a band's marks say.
func remarks(b charts.Band) string {
	var list []string
	if b.Only {
		list = append(list, "in no other year")
	}
	if b.Disputed {
		list = append(list, "disputed")
	}
	if b.FromChain || b.ToChain {
		list = append(list, "derived")
	}
	return english.And(list)
}

// bandClasses chooses a band's colour.
var bandClasses = map[schema.About]string{
	schema.AboutMade: "made", schema.AboutEra: "era", schema.AboutFeature: "value", schema.AboutSpec: "spec",
	schema.AboutTrading: "made", schema.AboutOwner: "era",
}

// done gives the view, with a legend of what the chart uses.
func (c *chart) done() *chartView {
	if len(c.view.Rows) == 0 {
		return nil
	}
	for _, e := range []struct {
		used       bool
		mark, text string
	}{
		{c.marks.faded, "faded", "fainter: less certain of that year"},
		{c.marks.derived, "derived", "edge derived, not stated"},
		{c.marks.sighted, "sighted", "a dated sighting"},
		{c.marks.disputed, "disputed", "disputed"},
		{c.marks.gap, "gap", "nobody accounts for these years"},
	} {
		if e.used {
			c.view.Legend = append(c.view.Legend, legendEntry{e.mark, e.text})
		}
	}
	return &c.view
}

// inOrder gives claims by their years, then as they stand.
func (s *Site) inOrder(claims []*schema.Claim) []*schema.Claim {
	return byYears(claims, s.facts.Timeline.Years, func(*schema.Claim, *schema.Claim) int { return 0 })
}

// byYears gives things by their first year, then by their last, then as rest
// compares them. Each is asked for its years once.
func byYears[T any](things []T, years func(T) edtf.Years, rest func(a, b T) int) []T {
	if len(things) < 2 {
		return things
	}
	type dated struct {
		thing       T
		first, last int
	}
	list := make([]dated, len(things))
	for i, thing := range things {
		y := years(thing)
		list[i] = dated{thing, y.A, y.D}
	}
	slices.SortStableFunc(list, func(a, b dated) int {
		return cmp.Or(cmp.Compare(a.first, b.first), cmp.Compare(a.last, b.last), rest(a.thing, b.thing))
	})
	ordered := make([]T, len(list))
	for i, d := range list {
		ordered[i] = d.thing
	}
	return ordered
}

// claimHref is the way from this page to a claim: its anchor alone on its own page.
func (p *page) claimHref(c *schema.Claim) string {
	if c.Model != nil && c.Model.Address() == p.path || c.Maker != nil && c.Maker.Address() == p.path {
		return "#" + c.Anchor()
	}
	return p.to(c.Address())
}

// span is the first and last possible year of a model's making.
func (s *Site) span(m *schema.Model) edtf.Range {
	y := s.facts.Timeline.Made(m)
	if y.Empty() {
		return s.ref.Horizon()
	}
	return edtf.Range{First: y.A, Last: y.D}
}
