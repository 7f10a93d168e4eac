package pages

import (
	"html/template"

	"yearmark/site/charts"
	"yearmark/site/markup"
)

// HTML writes the chart for a template.
func (v *chartView) HTML() template.HTML { return piece(v.write) }

// write writes the chart with its legend and the table behind it.
func (v *chartView) write(w *markup.Writer) {
	w.Tag(`<figure class="chart" aria-label="`).Text(v.Title).Tag("\">\n<div class=\"chart-row\"><div class=\"chart-name\"></div>")
	v.Axis.Ruler(w)
	w.Tag("</div>\n")
	for _, r := range v.Rows {
		w.Tag(`<div class="chart-row"><p class="chart-name">`).MaybeLink(r.Href, r.Name).Tag(`</p>`)
		v.Axis.Lanes(w, r.Row)
		w.Tag("</div>\n")
	}
	if len(v.Legend) > 0 {
		w.Tag(`<ul class="legend">`)
		for _, e := range v.Legend {
			w.Tag(`<li>`).HTML(e.Drawing).Text(e.Text).Tag(`</li>`)
		}
		w.Tag("</ul>\n")
	}
	v.writeTable(w)
	w.Tag("</figure>\n")
}

// writeSection writes the chart under a heading, if there is one.
func (v *chartView) writeSection(w *markup.Writer, heading string) {
	if v != nil {
		section(w, len(v.Rows), "Chart", heading, v.write)
	}
}

// barsView is a chart of odds, year by year.
type barsView struct {
	axis        charts.Axis
	chances     []charts.Chance
	description string
}

// HTML draws the chart for a template.
func (v barsView) HTML() template.HTML { return piece(v.write) }

func (v barsView) write(w *markup.Writer) { v.axis.Bars(w, v.chances, v.description) }

func (v *chartView) writeTable(w *markup.Writer) {
	w.Tag(`<details class="behind"><summary>The same as a table</summary><div class="wide" tabindex="0" role="region" aria-label="`).Text(v.Title).Tag(`, as a table"><table><thead><tr>`)
	for _, h := range v.Head {
		w.Tag(`<th scope="col">`).Text(h).Tag(`</th>`)
	}
	w.Tag("</tr></thead><tbody>\n")
	for _, r := range v.Rows {
		for i, b := range r.Bands {
			writeTableRow(w, r.Name, r.Said[i], b.Href, remarks(b))
		}
		for _, g := range r.Gaps {
			writeTableRow(w, r.Name, bandWords{"nobody accounts for these years", charts.YearWords(g)}, r.Href, "")
		}
	}
	w.Tag("</tbody></table></div></details>\n")
}

func writeTableRow(w *markup.Writer, name string, said bandWords, href, remark string) {
	w.Tag(`<tr><th scope="row">`).Text(name).Tag(`</th><td>`).Text(said.What).Tag(`</td><td>`)
	writeYears(w, said.Years, href)
	w.Tag(`</td><td>`).Text(remark).Tag("</td></tr>\n")
}
