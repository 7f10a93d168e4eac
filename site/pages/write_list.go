package pages

import (
	"html/template"

	"yearmark/site/markup"
)

// writeLine writes a line of a price list: what, dots, and years that lead somewhere.
func writeLine(w *markup.Writer, what anchor, years, yearsHref string) {
	w.Tag(`<div class="line"><span class="what">`).MaybeLink(what.Href, what.Text).Tag(`</span><span class="dots"></span>`)
	switch {
	case years == "":
	case yearsHref == "":
		w.Tag(`<span class="years">`).Text(years).Tag(`</span>`)
	default:
		writeYears(w, years, yearsHref)
	}
	w.Tag(`</div>`)
}

func writeYears(w *markup.Writer, years, href string) {
	w.Tag(`<a class="years" href="`).Address(href).Tag(`">`).Text(years).Tag(`</a>`)
}

func writeUnder(w *markup.Writer, words string) {
	if words != "" {
		w.Tag(`<span class="under">`).Text(words).Tag(`</span>`)
	}
}

// lineList is names with years, as a price list has them.
type lineList []lineView

// HTML writes the list for a template.
func (l lineList) HTML() template.HTML { return piece(l.write) }

func (l lineList) write(w *markup.Writer) {
	w.Tag("<ul class=\"pricelist\">\n")
	for _, v := range l {
		w.Tag(`<li>`)
		writeLine(w, v.anchor, v.Years, v.YearsHref)
		writeUnder(w, v.Under)
		w.Tag("</li>\n")
	}
	w.Tag(`</ul>`)
}

// write writes what rests on a place.
func (v *placeView) write(w *markup.Writer) {
	w.Tag(`<section class="place" id="`).Text(v.Anchor).Tag(`"><h3>`).Text(v.Name).Tag("</h3>\n<ul class=\"pricelist\">\n")
	for _, u := range v.Uses {
		w.Tag(`<li>`)
		writeLine(w, anchor{u.Href, u.Text}, u.Years, u.Href)
		if u.Against {
			w.Tag(`<span class="under against">speaks against this</span>`)
		}
		if u.SeenIn != "" {
			w.Tag(`<span class="under">seen in `)
			writeYears(w, u.SeenIn, u.Href)
			w.Tag(`</span>`)
		}
		w.Tag("</li>\n")
	}
	w.Tag(`</ul>`)
	if v.More > 0 {
		w.Tag(`<p class="soft">and `).Int(v.More).Tag(` more</p>`)
	}
	w.Tag("</section>\n")
}

// openList is matters that want attention.
type openList []openLine

// HTML writes the list for a template.
func (l openList) HTML() template.HTML { return piece(l.write) }

func (l openList) write(w *markup.Writer) {
	w.Tag("<ul class=\"pricelist\">\n")
	for _, v := range l {
		w.Tag(`<li>`)
		writeLine(w, anchor{Text: v.What}, v.Years, v.Href)
		v.writeSides(w)
		w.Tag("</li>\n")
	}
	w.Tag(`</ul>`)
}

// writeSides says why a matter is open, and who stands on either side.
func (v *openLine) writeSides(w *markup.Writer) {
	writeUnder(w, v.Because)
	switch {
	case len(v.Against) > 0:
		w.Tag(`<span class="under">`)
		v.For.write(w)
		w.Tag(`; against it `)
		v.Against.write(w)
		w.Tag(`</span>`)
	case len(v.For) > 0:
		w.Tag(`<span class="under">Only `)
		v.For.write(w)
		w.Tag(`</span>`)
	}
}

// questionList is open questions with what an answer is worth.
type questionList []question

// HTML writes the list for a template.
func (l questionList) HTML() template.HTML { return piece(l.write) }

func (l questionList) write(w *markup.Writer) {
	w.Tag(`<ul class="pricelist">`)
	for _, q := range l {
		w.Tag(`<li>`)
		writeLine(w, anchor{q.Href, q.What}, q.Years, q.Href)
		q.writeSides(w)
		w.Tag(`<span class="under">worth `).Text(q.Worth).Tag(" bits</span></li>\n")
	}
	w.Tag(`</ul>`)
}

// namedList is names with years in one line: "Plover 1965, Whinchat 1966".
type namedList []namedYears

// HTML writes the list for a template.
func (l namedList) HTML() template.HTML { return piece(l.write) }

func (l namedList) write(w *markup.Writer) {
	for i, n := range l {
		if i > 0 {
			w.Tag(`, `)
		}
		w.Text(n.Name).Tag(` `)
		writeYears(w, n.Years, n.Href)
	}
}

// orderList is statements of what came before what.
type orderList []orderView

// HTML writes the list for a template.
func (l orderList) HTML() template.HTML { return piece(l.write) }

func (l orderList) write(w *markup.Writer) {
	w.Tag("<ul class=\"pricelist\">\n")
	for _, o := range l {
		w.Tag(`<li>`).MaybeLink(o.First.Href, o.First.Text).Tag(` `).Text(o.Words)
		if o.Second.Text != "" {
			w.Tag(` `).MaybeLink(o.Second.Href, o.Second.Text)
		}
		w.Tag(`.<span class="under">`)
		o.Cites.write(w)
		if len(o.Against) > 0 {
			w.Tag(`; against: `)
			o.Against.write(w)
		}
		if o.Settled != "" {
			w.Tag(`; settled: `).Text(o.Settled)
		}
		w.Tag(`</span>`)
		writeFlags(w, o.Flags)
		w.Tag("</li>\n")
	}
	w.Tag(`</ul>`)
}

// cardList is records as cards.
type cardList []cardView

// HTML writes the list for a template.
func (l cardList) HTML() template.HTML { return piece(l.write) }

func (l cardList) write(w *markup.Writer) {
	w.Tag("<ul class=\"cards\">\n")
	for _, c := range l {
		w.Tag(`<li class="card">`)
		writePlate(w, c.Picture)
		w.Tag(`<h3>`).Link(c.Href, c.Text).Tag(`</h3>`)
		if c.Made != nil {
			w.Tag(`<p>`)
			writeYears(w, c.Made.Years, c.Made.Href)
			w.Tag(`</p>`)
		}
		if c.Under != "" {
			w.Tag(`<p class="soft">`).Text(c.Under).Tag(`</p>`)
		}
		w.Tag("</li>\n")
	}
	w.Tag(`</ul>`)
}

// writePlate writes a picture that only decorates what the words beside it say.
func writePlate(w *markup.Writer, src string) {
	if src != "" {
		w.Tag(`<div class="plate"><img src="`).Address(src).Tag(`" alt="" loading="lazy"></div>`)
	}
}

// bowList is examined bows as cards.
type bowList []exampleLine

// HTML writes the list for a template.
func (l bowList) HTML() template.HTML { return piece(l.write) }

func (l bowList) write(w *markup.Writer) {
	w.Tag("<ul class=\"cards js-bows\">\n")
	for _, b := range l {
		w.Tag(`<li class="card" data-model="`).Text(b.ModelID).Tag(`" data-papers="`).Text(b.Documented).Tag(`"`)
		if b.Odd {
			w.Tag(` data-odd=""`)
		}
		w.Tag(`>`)
		writePlate(w, b.Picture)
		w.Tag(`<h3>`).Link(b.Href, b.Text).Tag(`</h3><p>`)
		if b.Model == "" {
			w.Tag(`Model not known`)
		} else {
			w.Link(b.ModelHref, b.Model)
		}
		w.Tag(`</p>`)
		if b.Dated != "" {
			w.Tag(`<p>By its features `)
			writeYears(w, b.Dated, b.Href+"#Dating")
			w.Tag(`</p>`)
		}
		if b.Documented != "" {
			w.Tag(`<p>By its papers `)
			writeYears(w, b.Documented, b.Href+"#Papers")
			w.Tag(`</p>`)
		}
		if b.Odd || b.Unreviewed {
			w.Tag(`<ul class="flags">`)
			if b.Odd {
				w.Tag(`<li class="flag flag-disputed">features at odds</li>`)
			}
			if b.Unreviewed {
				w.Tag(`<li class="flag flag-doubted">not looked over yet</li>`)
			}
			w.Tag(`</ul>`)
		}
		w.Tag("</li>\n")
	}
	w.Tag(`</ul>`)
}
