package pages

import "yearmark/site/markup"

// write writes the page of a maker.
func (v *makerView) write(w *markup.Writer) {
	v.Base.Trail.write(w)
	v.writeOpening(w)
	v.Chart.writeSection(w, "Line-up by year")
	v.Text.writeStory(w, openSection, "The firm")
	section(w, len(v.Models), "Models", "Models", v.Models.write)
	v.writeThrough(w)
	section(w, len(v.Claims), "Claims", "Trading and owners", v.Claims.write)
	v.writeMarks(w)
	section(w, len(v.Orders), "Order", "What came before what", v.Orders.write)
	v.Withdrawn.write(w)
	v.Text.Notes.write(w)
	v.Record.write(w)
}

func (v *makerView) writeOpening(w *markup.Writer) {
	writeDivided(w, false)
	w.Tag(`<h1>`).Text(v.Name).Tag("</h1>\n<p class=\"standfirst\">")
	if v.Place != "" {
		w.Text(v.Place).Tag(`. `)
	}
	if v.Trading != nil {
		w.Tag(`Traded `)
		writeYears(w, v.Trading.Years, v.Trading.Href)
		w.Tag(`.`)
	}
	w.Tag("</p>\n")
	v.Tally.write(w)
	w.Tag("</div>\n")
}

// writeThrough writes what the maker's bows shared, feature by feature.
func (v *makerView) writeThrough(w *markup.Writer) {
	if len(v.Through) == 0 {
		return
	}
	openSection(w, "Through", "Marks and features through time")
	w.Tag("\n<p class=\"lead-in\">What this maker’s bows shared, in the order in which it appeared.</p>\n")
	for _, t := range v.Through {
		w.Tag(`<h3>`).Link(t.Of.Href, t.Of.Text).Tag("</h3>\n<ul class=\"through\">")
		for _, value := range t.Values {
			w.Tag(`<li>`)
			if value.Thumb != "" {
				w.Tag(`<span class="plate"><img src="`).Address(value.Thumb).Tag(`" alt="" loading="lazy"></span>`)
			}
			w.Tag(`<span>`).Link(value.Href, value.Name).Tag(`<span class="under">`)
			value.Claims.write(w)
			w.Tag("</span></span></li>\n")
		}
		w.Tag(`</ul>`)
	}
	closeSection(w)
}

// writeMarks tells how stamped weights read.
func (v *makerView) writeMarks(w *markup.Writer) {
	if len(v.WeightMarks) == 0 {
		return
	}
	openSection(w, marksSection, "How its draw weights are stamped")
	w.Tag("\n<ul class=\"pricelist\">")
	for _, m := range v.WeightMarks {
		w.Tag(`<li><div class="line"><span class="what"><b class="sign">`).Text(m.Sign).Tag(`</b> `).Text(m.Side)
		w.Tag(`</span><span class="dots"></span><span>`).Text(m.Adds).Tag("</span></div></li>\n")
	}
	w.Tag(`</ul><p class="small">On the word of `)
	v.MarkCites.write(w)
	w.Tag(`.</p>`)
	closeSection(w)
}
