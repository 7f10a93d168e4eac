// Package charts draws the site's charts of years as SVG.
//
// A chart stretches to the width it is given without stretching its words:
// across it is measured in percent of its width, down it in em of its text.
// So one drawing serves a telephone and a wall, its labels are always at
// reading size, and no style attribute is needed. Colours and strokes come
// from the style sheet by class.
//
// The grid is the year. A year's cell runs from its left edge to the next
// year's, and how far a year belongs to a claim is how strongly its cell is
// filled.
package charts

import (
	"yearmark/schema/edtf"
	"yearmark/site/markup"
)

// Axis is the years that a chart spans, first to last, both shown.
type Axis struct{ First, Last int }

// AxisOver gives the smallest axis that shows all the ranges, with a year to
// spare on both sides, cut to the horizon.
func AxisOver(horizon edtf.Range, ranges ...edtf.Range) Axis {
	if len(ranges) == 0 {
		return Axis(horizon)
	}
	a := Axis(ranges[0])
	for _, r := range ranges[1:] {
		a.First, a.Last = min(a.First, r.First), max(a.Last, r.Last)
	}
	a.First, a.Last = max(a.First-1, horizon.First), min(a.Last+1, horizon.Last)
	if a.Last < a.First {
		return Axis(horizon)
	}
	return a
}

// years is the number of cells.
func (a Axis) years() int { return max(a.Last-a.First+1, 1) }

// left is where a year's cell begins, from 0 to 1; years beyond the axis are cut to it.
func (a Axis) left(year int) float64 {
	n := a.years()
	return float64(min(max(year-a.First, 0), n)) / float64(n)
}

// step is how far apart the labelled years stand: at most eight of them fit
// the narrowest screen.
func (a Axis) step() int {
	const most = 8
	for _, s := range []int{1, 2, 5, 10, 20, 50, 100, 200, 500} {
		if a.years()/s <= most {
			return s
		}
	}
	return a.years()
}

// ticks gives the labelled years.
func (a Axis) ticks() []int {
	s := a.step()
	first := a.First
	if r := first % s; r != 0 {
		first += s - r
		if r < 0 {
			first -= s
		}
	}
	var list []int
	for y := first; y <= a.Last; y += s {
		list = append(list, y)
	}
	return list
}

// Ruler draws the years along the top of a chart. It also holds the grid and
// the patterns that the rows below refer to, so each page with rows needs one.
func (a Axis) Ruler(to *markup.Writer) {
	w := pen{to}
	w.Tag(`<svg class="ruler" width="100%" height="`)
	w.em(1.5).Tag(`" aria-hidden="true" focusable="false">`)
	w.Tag(`<defs>` +
		`<pattern id="Hatch" width="7" height="7" patternUnits="userSpaceOnUse" patternTransform="rotate(45)"><rect class="hatch-line" width="1.6" height="7"/></pattern>` +
		`<pattern id="Strife" width="9" height="9" patternUnits="userSpaceOnUse" patternTransform="rotate(-45)"><rect class="strife-line" width="3.2" height="9"/></pattern>` +
		`<g id="Grid">`)
	for _, y := range a.ticks() {
		x := a.left(y)
		w.Tag(`<line class="grid" x1="`)
		w.percent(x).Tag(`" x2="`)
		w.percent(x).Tag(`" y2="100%"/>`)
	}
	w.Tag(`</g></defs>`)
	for _, y := range a.ticks() {
		x := a.left(y)
		w.line("tick", x, .2, x, 1.5)
		if x+yearWidth <= 1 {
			w.Tag(`<text class="year" x="`)
			w.percent(x).Tag(`" y="1em" dx=".3em">`).Int(y).Tag(`</text>`)
		}
	}
	w.Tag(`</svg>`)
}

// narrow is the width in em of the narrowest chart that must still be
// readable: 320 pixels of text at 13 pixels.
const narrow = 24.6

// yearWidth is how much of the narrowest chart four figures take.
const yearWidth = 2.8 / narrow

// pen writes SVG: markup.Writer with measures.
type pen struct{ *markup.Writer }

// percent writes a share of the width, from 0 to 1.
func (w pen) percent(x float64) pen {
	w.Decimal(x*100, decimals).Tag("%")
	return w
}

func (w pen) em(y float64) pen {
	w.Decimal(y, decimals).Tag("em")
	return w
}

// decimals is how finely measures are written.
const decimals = 2

func (w pen) line(class string, x1, y1, x2, y2 float64) {
	w.Tag(`<line class="`).Text(class).Tag(`" x1="`)
	w.percent(x1).Tag(`" y1="`)
	w.em(y1).Tag(`" x2="`)
	w.percent(x2).Tag(`" y2="`)
	w.em(y2).Tag(`"/>`)
}

// rect opens a rectangle and leaves its tag open.
func (w pen) rect(class string, x, y, width, height float64) pen {
	w.Tag(`<rect class="`).Text(class).Tag(`" x="`)
	w.percent(x).Tag(`" y="`)
	w.em(y).Tag(`" width="`)
	w.percent(width).Tag(`" height="`)
	w.em(height).Tag(`"`)
	return w
}
