package charts

import (
	"cmp"
	"strconv"
)

// Chance is the odds of one year, from 0 to 1.
type Chance struct {
	Year   int
	Chance float64
	// Held says that the year belongs to the smallest set that holds half the
	// odds; Strict, that every observation is possible in it at its word.
	Held, Strict bool
	// Label stands above the bar where a figure fits; the chance where it is empty.
	Label string
}

// barsHeight is the height of the bars, in em.
const barsHeight = 7.0

// bar is the odds of one year where they are drawn.
type bar struct {
	class string
	box
	strict *box // the line below
	label  *barLabel
}

type barLabel struct{ x, y, words string }

// bars places the odds, the highest as tall as the chart.
func (a Axis) bars(list []Chance) []bar {
	top := 0.0
	for _, c := range list {
		top = max(top, c.Chance)
	}
	var bars []bar
	for _, c := range list {
		if c.Year >= a.First && c.Year <= a.Last && top > 0 {
			bars = append(bars, a.bar(c, c.Chance/top))
		}
	}
	return bars
}

// bar places one year, part of the highest, with its chance where a figure fits.
func (a Axis) bar(c Chance, part float64) bar {
	cell := 1 / float64(a.years())
	x, height := a.left(c.Year), float64(part*(barsHeight-1.4))
	b := bar{class: "bar", box: box{percent(x + float64(cell*.08)), em(barsHeight - height), percent(cell * .84), em(height)}}
	if c.Held {
		b.class = "bar held"
	}
	if c.Strict {
		b.strict = &box{percent(x), em(barsHeight + .08), percent(cell), em(.22)}
	}
	if part == 1 || c.Chance >= .02 && cell*narrow > 2.4 {
		b.label = &barLabel{percent(x + float64(cell/2)), em(barsHeight - height - .35), cmp.Or(c.Label, Percent(c.Chance))}
	}
	return b
}

// Percent gives a chance in words of two or three figures: "93 %", "4.2 %", "below 0.1 %".
func Percent(chance float64) string {
	p := chance * 100
	switch {
	case p == 0:
		return "0 %"
	case p < .1:
		return "below 0.1 %"
	case p < 9.95:
		return strconv.FormatFloat(p, 'f', 1, 64) + " %"
	case p >= 99.5 && p < 99.995:
		return strconv.FormatFloat(min(p, 99.9), 'f', 1, 64) + " %"
	}
	return strconv.FormatFloat(p, 'f', 0, 64) + " %"
}
