package charts

import (
	"strconv"
	"unicode/utf8"

	"yearmark/schema/edtf"
	"yearmark/site/markup"
)

// Band is one claim on a chart.
type Band struct {
	Years edtf.Years
	Label string // the words beside it
	Title string // the whole statement, for a pointer that rests on it and for those who cannot see it
	Href  string // where a tap leads
	Class string // the kind of band: "era", "value", "spec" …

	Disputed  bool
	Only      bool  // claimed to be found in no other year
	FromChain bool  // its first years are derived, not stated
	ToChain   bool  // its last years are derived, not stated
	Sightings []int // attested years
}

// Row is the bands of one thing, each in a lane of its own, and the stretches
// of years that nobody accounts for.
type Row struct {
	Name  string
	Bands []Band
	Gaps  []edtf.Range
}

// Measures of a lane, in em.
const (
	laneHeight = 1.9
	bandTop    = .25
	bandHeight = 1.4
	baseline   = 1.27
)

// Lanes draws a row. Bands are links; the drawing is a group with the row's
// name, and each link has the band's Title as its name.
func (a Axis) Lanes(to *markup.Writer, r Row) {
	lanes := len(r.Bands)
	if len(r.Gaps) > 0 || lanes == 0 {
		lanes++
	}
	height := float64(lanes) * laneHeight
	w := pen{to}
	w.Tag(`<svg class="lanes" width="100%" height="`)
	w.em(height).Tag(`" role="group" aria-label="`).Text(r.Name).Tag(`">`)
	w.Tag(`<use href="#Grid"/>`)
	for i, b := range r.Bands {
		a.band(w, b, float64(i)*laneHeight)
	}
	for _, g := range r.Gaps {
		a.gap(w, g, float64(len(r.Bands))*laneHeight)
	}
	w.Tag("</svg>")
}

func (a Axis) gap(w pen, g edtf.Range, top float64) {
	x := a.left(g.First)
	w.rect("gap", x, top+bandTop, a.left(g.Last+1)-x, bandHeight)
	w.Tag(` fill="url(#Hatch)"><title>nobody accounts for `).Text(YearWords(g)).Tag(`</title></rect>`)
}

// YearWords gives a range of years as people print it: "1964" or "1964–1967".
func YearWords(r edtf.Range) string {
	words := strconv.Itoa(r.First)
	if r.Last != r.First {
		words += "–" + strconv.Itoa(r.Last)
	}
	return words
}

// band draws one claim in the lane that begins at top.
func (a Axis) band(w pen, b Band, top float64) {
	w.Tag(`<a class="band band-`).Text(b.Class)
	if b.Disputed {
		w.Tag(` disputed`)
	}
	w.Tag(`" href="`).Address(b.Href).Tag(`"><title>`).Text(b.Title).Tag(`</title>`)
	x0, x1 := a.left(b.Years.A), a.left(b.Years.D+1)
	if !b.Years.Empty() {
		a.shape(w, b, top, x0, x1)
		a.marks(w, b, top, x0, x1)
	}
	a.label(w, b, top, x0, x1)
	w.Tag(`</a>`)
}

// shape draws the years of a band and the frame around them, in one where the
// years are all alike.
func (a Axis) shape(w pen, b Band, top, x0, x1 float64) {
	runs := a.runs(b.Years)
	if len(runs) == 1 && runs[0].share == 1 && !b.Disputed {
		w.rect("fill frame", x0, top+bandTop, x1-x0, bandHeight).Tag(`/>`)
		return
	}
	for _, run := range runs {
		x := a.left(run.first)
		w.rect("fill", x, top+bandTop, a.left(run.last+1)-x, bandHeight)
		if run.share < 1 {
			w.Tag(` fill-opacity="`).Decimal(strength(run.share), decimals).Tag(`"`)
		}
		w.Tag(`/>`)
	}
	if b.Disputed {
		w.rect("strife", x0, top+bandTop, x1-x0, bandHeight).Tag(` fill="url(#Strife)"/>`)
	}
	w.rect("frame", x0, top+bandTop, x1-x0, bandHeight).Tag(`/>`)
}

// marks draws over a band's years which of their ends are derived, and when the
// thing was seen.
func (a Axis) marks(w pen, b Band, top, x0, x1 float64) {
	if b.FromChain {
		w.line("chain", x0, top+.08, x0, top+laneHeight-.08)
	}
	if b.ToChain {
		w.line("chain", x1, top+.08, x1, top+laneHeight-.08)
	}
	half := .5 / float64(a.years())
	for _, y := range b.Sightings {
		if y >= a.First && y <= a.Last {
			w.Tag(`<circle class="sighting" cx="`)
			w.percent(a.left(y) + half).Tag(`" cy="`)
			w.em(top + bandTop + bandHeight - .28).Tag(`" r=".17em"/>`)
		}
	}
}

// strength is how strongly a year's cell is filled; the least share can still be seen.
func strength(share float64) float64 { return .14 + float64(.7*share) }

// run is neighbouring years of one membership.
type run struct {
	first, last int
	share       float64
}

// runs gives the years of the axis that are possible, joined where their
// membership is the same.
func (a Axis) runs(y edtf.Years) []run {
	var list []run
	for year := max(y.A, a.First); year <= min(y.D, a.Last); year++ {
		m := y.Membership(year)
		switch last := len(list) - 1; {
		case m <= 0:
		case last >= 0 && list[last].last == year-1 && list[last].share == m:
			list[last].last = year
		default:
			list = append(list, run{year, year, m})
		}
	}
	return list
}

// label writes the words where they fit the narrowest chart: after the band,
// before it, on it, or from as far right as they can begin.
func (a Axis) label(w pen, b Band, top, x0, x1 float64) {
	words := b.Label
	if b.Only {
		words += " only"
	}
	if b.Years.Empty() {
		x0, x1 = 0, 0
	}
	const perLetter, gap = .56 / narrow, .5 / narrow
	need := float64(perLetter*float64(utf8.RuneCountInString(words))) + gap
	x, dx, class := x1, ".45em", "label label-free"
	switch {
	case x1+need <= 1:
	case x0-need >= 0:
		x, dx, class = x0, "-.45em", "label label-free label-end"
	default:
		x, class = max(min(x0, 1-need), 0), "label"
	}
	w.Tag(`<text class="`).Text(class).Tag(`" x="`)
	w.percent(x).Tag(`" y="`)
	w.em(top + baseline).Tag(`" dx="`).Text(dx).Tag(`">`).Text(b.Label)
	if b.Only {
		w.Tag(` <tspan class="only">only</tspan>`)
	}
	w.Tag(`</text>`)
}
