package pages

import (
	"html/template"

	"yearmark/builder/markup"
)

// observedList is what was seen on one bow.
type observedList []observedView

// HTML writes the list.
func (l observedList) HTML() template.HTML {
	w := markup.New(600 * len(l))
	w.Tag(`<ul class="claims">`)
	for i := range l {
		l[i].write(w)
	}
	return w.Tag(`</ul>`).Done()
}

func (v *observedView) write(w *markup.Writer) {
	w.Tag(`<li class="claim"><div class="line"><span class="what">`).MaybeLink(v.Feature.Href, v.Feature.Text).Tag(`: <b>`)
	for i, value := range v.Values {
		if i > 0 {
			w.Tag(` or `)
		}
		w.MaybeLink(value.Href, value.Text)
	}
	w.Tag(`</b></span><span class="dots"></span>`)
	if v.HasWeight {
		w.Tag(`<span class="figure">`).Text(v.Decibans).Tag(` decibans</span>`)
	}
	w.Tag("</div>\n")
	var flags []flag
	if v.Sure != "" {
		flags = append(flags, flag{"doubted", v.Sure})
	}
	if v.OddOneOut {
		flags = append(flags, flag{"disputed", "odd one out"})
	}
	writeFlags(w, flags)
	if v.Note != "" {
		w.Tag(`<p class="small">`).Text(v.Note).Tag(`</p>`)
	}
	v.writeGrounds(w)
	w.Tag("</li>\n")
}

// writeGrounds writes the claims behind the observation.
func (v *observedView) writeGrounds(w *markup.Writer) {
	if len(v.Claims) == 0 {
		return
	}
	w.Tag(`<p class="small soft">`)
	for i, c := range v.Claims {
		if i > 0 {
			w.Tag(`; `)
		}
		if !c.Seen {
			w.Tag(`but `)
		}
		w.Text(c.Words).Tag(` `)
		writeYears(w, c.Years, c.Href)
	}
	w.Tag(`</p>`)
}

// yearTable is the odds behind a chart of them.
type yearTable []yearRow

// HTML writes the table.
func (t yearTable) HTML() template.HTML {
	w := markup.New(100 + 80*len(t))
	w.Tag(`<table><thead><tr><th scope="col">Year</th><th scope="col" class="figure">Odds</th></tr></thead><tbody>`)
	for _, r := range t {
		w.Tag(`<tr><th scope="row">`).Text(r.Year).Tag(`</th><td class="figure">`).Text(r.Chance).Tag(`</td></tr>`)
	}
	return w.Tag(`</tbody></table>`).Done()
}
