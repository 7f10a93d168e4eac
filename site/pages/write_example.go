package pages

import "yearmark/site/markup"

// write writes the page of an examined bow.
func (v *exampleView) write(w *markup.Writer) {
	v.Base.Trail.write(w)
	v.writeOpening(w)
	v.writeDating(w)
	if d := v.Documented; d != nil {
		openSection(w, "Papers", "Its papers")
		w.Tag(`<p>`)
		writeYears(w, d.Years, d.Href)
		w.Tag(`, by `)
		d.Cites.write(w)
		w.Tag(`. `).Text(d.Verdict).Tag(`</p>`)
		closeSection(w)
	}
	if len(v.Observed) > 0 {
		openSection(w, "Seen", "What was seen")
		v.Observed.write(w)
		w.Tag(`<p class="small soft">Decibans: the weight of each observation for the likeliest year. Ten decibans make something ten times as likely; below nought it speaks against.</p>`)
		closeSection(w)
	}
	v.writeCondition(w)
	v.Text.writeStory(w, openSection, "Remarks")
	if len(v.Cited) > 0 {
		openSection(w, "Rests", "What rests on it")
		for i := range v.Cited {
			v.Cited[i].write(w)
		}
		closeSection(w)
	}
	if v.Submitted != nil && v.Submitted.Note != "" {
		openSection(w, "Sent", "What the visitor wrote")
		w.Tag(`<p class="as-sent">`).Text(v.Submitted.Note).Tag(`</p>`)
		closeSection(w)
	}
	v.Text.Notes.write(w)
	v.Record.write(w)
}

func (v *exampleView) writeOpening(w *markup.Writer) {
	w.Tag("<div class=\"opening opening-split\"><div>\n<h1>").Text(v.Name).Tag("</h1>\n")
	v.writeFacts(w)
	if v.Submitted != nil && v.Submitted.Unreviewed {
		w.Tag("<p class=\"caution\"><strong>Not looked over yet.</strong> A visitor sent this bow in; the register’s editor has not held it against the photographs. It is in no count until then.</p>\n")
	}
	w.Tag("</div>\n")
	if len(v.Pictures) > 0 {
		w.Tag(`<div class="plates">`)
		for i := range v.Pictures {
			v.Pictures[i].write(w)
		}
		w.Tag(`</div>`)
	}
	w.Tag("</div>\n")
}

func (v *exampleView) writeFacts(w *markup.Writer) {
	w.Tag(`<dl class="facts"><dt>Number</dt><dd class="figure">`).Text(v.ID).Tag(`</dd><dt>Model</dt><dd>`)
	if v.Model.Href == "" {
		w.Tag(`not known`)
	} else {
		w.Link(v.Model.Href, v.Model.Text)
		if v.Maker.Text != "" {
			w.Tag(`, `).Link(v.Maker.Href, v.Maker.Text)
		}
	}
	w.Tag(`</dd>`)
	if v.Seen != "" {
		w.Tag(`<dt>Examined</dt><dd>`).Text(v.Seen)
		if v.By != "" {
			w.Tag(`, by `).Text(v.By)
		}
		w.Tag(`</dd>`)
	}
	if v.WeightMark != "" {
		w.Tag(`<dt>Weight mark</dt><dd><b class="sign">`).Text(v.WeightMark).Tag(`</b>`)
		if v.Decoded != "" {
			w.Tag(`, which reads `).Text(v.Decoded)
		}
		if len(v.DecodedCites) > 0 {
			w.Tag(` <span class="small">(`)
			v.DecodedCites.write(w)
			w.Tag(`)</span>`)
		}
		w.Tag(`</dd>`)
	}
	if v.Submitted != nil {
		w.Tag(`<dt>Sent in</dt><dd>`).Text(v.Submitted.On).Tag(`, by a visitor</dd>`)
	}
	w.Tag("</dl>\n")
}

func (v *exampleView) writeDating(w *markup.Writer) {
	d := v.Dating
	if d == nil {
		return
	}
	openSection(w, "Dating", "Dated from its features")
	if d.Impossible {
		w.Tag(`<p>No year is possible with what was seen.</p>`)
	} else {
		d.write(w)
	}
	w.Tag(`<p class="buttons"><a class="button quiet" href="`).Address(v.DateHref).Tag(`">Open it in the dating form, with its set-up sheet</a></p>`)
	closeSection(w)
}

func (d *datingView) write(w *markup.Writer) {
	w.Tag(`<div class="result"><p class="verdict">`).Text(d.Verdict).Tag(` <small>`).Text(d.Sub).Tag("</small></p>\n<p>Taken at its word: <span class=\"years\">").Text(d.Strict).Tag("</span>.</p>\n")
	d.writeClash(w)
	w.Tag(`<figure class="chart odds-chart">`)
	d.Bars.write(w)
	w.Tag("\n<details class=\"behind\"><summary>The same as a table</summary>")
	d.Table.write(w)
	w.Tag(`</details><figcaption>Dark bars hold half the odds; the line below marks the years possible at the features’ word.</figcaption></figure>`)
	if len(d.Models) > 1 {
		w.Tag(`<h3>Which model</h3><ul class="pricelist">`)
		for _, m := range d.Models {
			w.Tag(`<li><div class="line"><span class="what">`).Link(m.Model.Href, m.Model.Text).Tag(`</span><span class="dots"></span><span class="figure">`).Text(m.Chance).Tag(`</span></div></li>`)
		}
		w.Tag(`</ul>`)
	}
	w.Tag("</div>\n")
}

// writeClash says which features cannot be of one bow, and which may be the odd one out.
func (d *datingView) writeClash(w *markup.Writer) {
	if len(d.Conflicts) == 0 {
		return
	}
	w.Tag(`<div class="clash"><h3>At their word these cannot be one bow</h3><ul>`)
	for _, c := range d.Conflicts {
		w.Tag(`<li>`).Text(c).Tag(`</li>`)
	}
	w.Tag("</ul>\n")
	if d.OddOne != "" {
		w.Tag(`<p>The odd one out is most likely the `).Text(d.OddOne).Tag(`: a replaced part, a special order, a refinished mark or a slip of the eye.</p>`)
	}
	if len(d.OddOnes) > 0 {
		w.Tag(`<ul>`)
		for _, o := range d.OddOnes {
			w.Tag(`<li>Without the `).Text(o.Feature).Tag(`: <span class="years">`).Text(o.Then).Tag(`</span></li>`)
		}
		w.Tag(`</ul>`)
	}
	w.Tag("</div>\n")
}

func (v *exampleView) writeCondition(w *markup.Writer) {
	if len(v.Condition) == 0 {
		return
	}
	openSection(w, "Condition", "Condition")
	w.Tag(`<ul class="pricelist">`)
	for _, c := range v.Condition {
		w.Tag(`<li><div class="line"><span class="what">`).Text(c.Part).Tag(`</span><span class="dots"></span><span class="state">`).Text(c.State).Tag(`</span></div></li>`)
	}
	w.Tag("</ul>\n<p class=\"small soft\">As seen on the day. It certifies nothing: ask a bowyer before an old bow is strung.</p>")
	closeSection(w)
}

// observedList is what was seen on one bow.
type observedList []observedView

func (l observedList) write(w *markup.Writer) {
	w.Tag(`<ul class="claims">`)
	for i := range l {
		l[i].write(w)
	}
	w.Tag(`</ul>`)
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

func (t yearTable) write(w *markup.Writer) {
	w.Tag(`<table><thead><tr><th scope="col">Year</th><th scope="col" class="figure">Odds</th></tr></thead><tbody>`)
	for _, r := range t {
		w.Tag(`<tr><th scope="row">`).Text(r.Year).Tag(`</th><td class="figure">`).Text(r.Chance).Tag(`</td></tr>`)
	}
	w.Tag(`</tbody></table>`)
}
