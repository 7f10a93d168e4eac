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
	"strconv"
	"strings"

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

// narrow is the width in em of the narrowest chart that must still be
// readable: 320 pixels of text at 13 pixels.
const narrow = 24.6

// yearWidth is how much of the narrowest chart four figures take.
const yearWidth = 2.8 / narrow

// tickFits says whether the figures of a labelled year fit beside its tick.
func (a Axis) tickFits(year int) bool { return a.left(year)+yearWidth <= 1 }

// box is a rectangle: across in percent of the width, down in em.
type box struct{ x, y, width, height string }

// bandBox gives the rectangle of a band from x0 to x1, both from 0 to 1.
func bandBox(x0, x1, top float64) box {
	return box{x: percent(x0), y: em(top + bandTop), width: percent(x1 - x0)}
}

// percent gives a share of the width, from 0 to 1.
func percent(x float64) string { return measure(x*100) + "%" }

func em(y float64) string { return measure(y) + "em" }

// measure gives a number with two decimals at most.
func measure(x float64) string {
	return strings.TrimSuffix(strings.TrimRight(Decimal(x, 2), "0"), ".")
}

// Decimal prints a number with so many decimals.
func Decimal(x float64, decimals int) string { return strconv.FormatFloat(x, 'f', decimals, 64) }
