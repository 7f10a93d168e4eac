package charts

import (
	"cmp"
	"html/template"
	"strconv"

	"yearmark/site/markup"
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

// Bars draws the odds year by year, the highest as tall as the chart, with a
// line under the years that are possible when every observation is taken at
// its word. The drawing is one picture with the given description; a table
// belongs behind it.
func (a Axis) Bars(to *markup.Writer, list []Chance, description string) {
	w := pen{to}
	w.Tag(`<svg class="bars" width="100%" height="`)
	w.em(barsHeight + 2).Tag(`" role="img" aria-label="`).Text(description).Tag(`">`)
	top := 0.0
	for _, c := range list {
		top = max(top, c.Chance)
	}
	cell := 1 / float64(a.years())
	for _, c := range list {
		if c.Year < a.First || c.Year > a.Last || top <= 0 {
			continue
		}
		a.bar(w, c, c.Chance/top, cell)
	}
	w.line("base", 0, barsHeight, 1, barsHeight)
	for _, y := range a.ticks() {
		if x := a.left(y); x+yearWidth <= 1 {
			w.line("tick", x, barsHeight, x, barsHeight+.5)
			w.Tag(`<text class="year" x="`)
			w.percent(x).Tag(`" y="`)
			w.em(barsHeight + 1.6).Tag(`">`).Int(y).Tag(`</text>`)
		}
	}
	w.Tag(`</svg>`)
}

// bar draws one year, part of the highest: its bar, the chance above it where
// a figure fits, and the strict line below.
func (a Axis) bar(w pen, c Chance, part, cell float64) {
	x, height := a.left(c.Year), float64(part*(barsHeight-1.4))
	class := "bar"
	if c.Held {
		class = "bar held"
	}
	w.rect(class, x+float64(cell*.08), barsHeight-height, cell*.84, height).Tag(`/>`)
	if c.Strict {
		w.rect("strict", x, barsHeight+.08, cell, .22).Tag(`/>`)
	}
	if part == 1 || c.Chance >= .02 && cell*narrow > 2.4 {
		w.Tag(`<text class="share" x="`)
		w.percent(x + float64(cell/2)).Tag(`" y="`)
		w.em(barsHeight - height - .35).Tag(`">`).Text(cmp.Or(c.Label, Percent(c.Chance))).Tag(`</text>`)
	}
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

// Swatch draws the sign that a legend explains: "faded", "derived", "sighted",
// "disputed" or "gap". The patterns are those of a Ruler on the same page.
func Swatch(sign string) template.HTML { return swatches[sign] }

var swatches = func() map[string]template.HTML {
	drawn := map[string]template.HTML{}
	for sign, inside := range map[string]template.HTML{
		"faded":    `<g class="band"><rect class="fill" width="10" height="14" fill-opacity=".24"/><rect class="fill" x="10" width="10" height="14" fill-opacity=".5"/><rect class="fill" x="20" width="10" height="14" fill-opacity=".84"/></g>`,
		"derived":  `<g class="band"><rect class="fill" x="6" width="24" height="14"/><line class="chain" x1="6" x2="6" y1="0" y2="14"/></g>`,
		"sighted":  `<g class="band"><rect class="fill" width="30" height="14"/><circle class="sighting" cx="15" cy="9" r="2.6"/></g>`,
		"disputed": `<g class="band disputed"><rect class="fill" width="30" height="14"/><rect width="30" height="14" fill="url(#Strife)"/><rect class="frame" x=".5" y=".5" width="29" height="13"/></g>`,
		"gap":      `<rect class="gap" x=".5" y=".5" width="29" height="13" fill="url(#Hatch)"/>`,
	} {
		drawn[sign] = `<svg class="swatch" width="30" height="14" viewBox="0 0 30 14" aria-hidden="true" focusable="false">` + inside + `</svg>`
	}
	return drawn
}()

// Decimal prints a number with so many decimals.
func Decimal(x float64, decimals int) string { return strconv.FormatFloat(x, 'f', decimals, 64) }
