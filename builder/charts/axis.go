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
	"html/template"
	"strconv"

	"yearmark/schema/edtf"
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

// Ruler draws the years along the top of a chart. It also holds the patterns
// that the rows below refer to, so each page with rows needs one.
func (a Axis) Ruler() template.HTML {
	w := newPen("ruler", 1.5)
	w.text(`<defs>` +
		`<pattern id="Hatch" width="7" height="7" patternUnits="userSpaceOnUse" patternTransform="rotate(45)"><rect class="hatch-line" width="1.6" height="7"/></pattern>` +
		`<pattern id="Strife" width="9" height="9" patternUnits="userSpaceOnUse" patternTransform="rotate(-45)"><rect class="strife-line" width="3.2" height="9"/></pattern>` +
		`</defs>`)
	for _, y := range a.ticks() {
		x := a.left(y)
		w.line("tick", x, .2, x, 1.5)
		if x+yearWidth <= 1 {
			w.text(`<text class="year" x="`).percent(x).text(`" y="1em" dx=".3em">`).int(y).text(`</text>`)
		}
	}
	return w.done()
}

// narrow is the width in em of the narrowest chart that must still be
// readable: 320 pixels of text at 13 pixels.
const narrow = 24.6

// yearWidth is how much of the narrowest chart four figures take.
const yearWidth = 2.8 / narrow

// pen writes SVG. Everything that is not a number of ours goes through escape.
type pen struct{ b []byte }

func newPen(class string, height float64) *pen {
	w := &pen{b: make([]byte, 0, 1024)}
	return w.text(`<svg class="`).text(class).text(`" width="100%" height="`).em(height).text(`" aria-hidden="true" focusable="false">`)
}

func (w *pen) text(s string) *pen { w.b = append(w.b, s...); return w }

func (w *pen) escape(s string) *pen { return w.text(template.HTMLEscapeString(s)) }

func (w *pen) int(n int) *pen { w.b = strconv.AppendInt(w.b, int64(n), 10); return w }

// percent writes a share of the width, from 0 to 1.
func (w *pen) percent(x float64) *pen { w.number(x * 100); return w.text("%") }

func (w *pen) em(y float64) *pen { w.number(y); return w.text("em") }

// number writes at most two decimals, without trailing zeros.
func (w *pen) number(x float64) {
	start := len(w.b)
	w.b = strconv.AppendFloat(w.b, x, 'f', 2, 64)
	end := len(w.b)
	for end > start && w.b[end-1] == '0' {
		end--
	}
	if end > start && w.b[end-1] == '.' {
		end--
	}
	w.b = w.b[:end]
}

func (w *pen) line(class string, x1, y1, x2, y2 float64) {
	w.text(`<line class="`).text(class).text(`" x1="`).percent(x1).text(`" y1="`).em(y1).text(`" x2="`).percent(x2).text(`" y2="`).em(y2).text(`"/>`)
}

func (w *pen) rect(class string, x, y, width, height float64) *pen {
	return w.text(`<rect class="`).text(class).text(`" x="`).percent(x).text(`" y="`).em(y).text(`" width="`).percent(width).text(`" height="`).em(height).text(`"`)
}

func (w *pen) done() template.HTML {
	w.text("</svg>")
	return template.HTML(w.b)
}
