package pages

import "yearmark/site/markup"

// write writes the page of a model.
func (v *modelView) write(w *markup.Writer) {
	v.Base.Trail.write(w)
	v.writeOpening(w)
	v.Chart.writeSection(w, "Year by year")
	w.Tag("<div class=\"beside\">")
	v.writeContents(w)
	w.Tag("<div class=\"body\">\n")
	v.Text.writeStory(w, openSection, "Its story")
	v.writeMaking(w)
	section(w, len(v.Eras), "Eras", "Eras", v.Eras.write)
	v.writeFeatures(w)
	v.writeOrders(w)
	v.writeUnsettled(w)
	v.writeMissing(w)
	section(w, len(v.Examples), "Examples", "Bows examined", v.Examples.write)
	v.writeKin(w)
	v.Withdrawn.write(w)
	v.Text.Notes.write(w)
	v.Record.write(w)
	w.Tag(`</div></div>`)
}

func (v *modelView) writeOpening(w *markup.Writer) {
	writeDivided(w, v.Picture != "")
	w.Tag("<div>\n<h1>").Text(v.Name).Tag("</h1>\n<p class=\"standfirst\">")
	if v.Uses != "" {
		w.Tag(`A bow for `).Text(v.Uses).Tag(`, `)
	}
	if v.Made != nil {
		w.Tag(`made `)
		writeYears(w, v.Made.Years, v.Made.Href)
		w.Tag(` `)
	}
	w.Tag(`by `).Link(v.Maker.Href, v.Maker.Text)
	if v.Place != "" {
		w.Tag(`, `).Text(v.Place)
	}
	w.Tag(".</p>\n")
	v.Tally.write(w)
	w.Tag(`<div class="buttons"><a class="button" href="`).Address(v.DateHref).Tag(`">Date a `).Text(v.Name)
	w.Tag("</a><a class=\"button plain only-narrow\" href=\"#Contents\">On this page</a></div>\n</div>\n")
	if v.Picture != "" {
		w.Tag(`<figure class="plate plate-tall"><img src="`).Address(v.Picture).Tag(`" alt="The `).Text(v.Name).Tag(`, drawn from the side"></figure>`)
	}
	w.Tag("</div>\n")
}

// writeDivided begins the opening of a page, with room beside it if need be.
func writeDivided(w *markup.Writer, split bool) {
	if split {
		w.Tag("<div class=\"opening opening-split\">\n")
		return
	}
	w.Tag("<div class=\"opening\">\n")
}

// writeContents leads to the sections that the page has.
func (v *modelView) writeContents(w *markup.Writer) {
	w.Tag("<nav class=\"contents no-print\" id=\"Contents\" aria-label=\"On this page\"><p class=\"label-line\">On this page</p><ul>\n")
	for _, s := range []struct {
		there    bool
		id, name string
	}{
		{v.Text.HTML != "", "Story", "Its story"},
		{len(v.MadeClaim) > 0, "Making", "When it was made"},
		{len(v.Eras) > 0, "Eras", "Eras"},
		{len(v.Features) > 0, "Features", "Features"},
		{len(v.Specs) > 0, "Figures", "Published figures"},
		{len(v.Orders) > 0, "Order", "What came before what"},
		{len(v.Disputed) > 0, "Disputed", "Disputed"},
		{len(v.Derived) > 0, "Derived", "Derived"},
		{true, "Missing", "Missing"},
		{len(v.Examples) > 0, "Examples", "Bows examined"},
		{len(v.Related) > 0, "Kin", "Related models"},
		{len(v.Text.Notes) > 0, "Notes", "Notes"},
		{true, "Record", "The record itself"},
	} {
		if s.there {
			w.Tag(`<li><a href="#`).Text(s.id).Tag(`">`).Text(s.name).Tag(`</a></li>`)
		}
	}
	w.Tag("\n</ul></nav>\n")
}

func (v *modelView) writeMaking(w *markup.Writer) {
	if len(v.MadeClaim) == 0 {
		return
	}
	openSection(w, "Making", "When it was made")
	v.MadeClaim.write(w)
	if len(v.Output) > 0 {
		w.Tag("<h3>How many were made</h3>\n<div class=\"wide\" tabindex=\"0\" role=\"region\" aria-label=\"How many were made\"><table><thead><tr><th scope=\"col\">Years</th><th scope=\"col\" class=\"figure\">Bows</th><th scope=\"col\">On whose word</th></tr></thead><tbody>\n")
		for _, o := range v.Output {
			w.Tag(`<tr><th scope="row">`)
			if o.Href != "" {
				writeYears(w, o.Years, o.Href)
			} else {
				w.Text(o.Years)
			}
			w.Tag(`</th><td class="figure">`).Text(o.Made).Tag(`</td><td>`)
			o.Cites.write(w)
			w.Tag("</td></tr>\n")
		}
		w.Tag(`</tbody></table></div>`)
	}
	closeSection(w)
}

// groupList is the claims about one feature after another.
type groupList []claimGroup

func (l groupList) write(w *markup.Writer) {
	for _, g := range l {
		w.Tag(`<details class="group js-fold" id="`).Text(g.ID).Tag(`" open><summary><h3>`).Text(g.Of.Text).Tag(`</h3><span class="digest">`).Text(g.Digest).Tag("</span></summary>\n")
		g.Lines.write(w)
		if g.Of.Href != "" {
			w.Tag(`<p class="small"><a href="`).Address(g.Of.Href).Tag(`">How to tell, and who else had it: `).Text(g.Of.Text).Tag(`</a></p>`)
		}
		w.Tag("</details>\n")
	}
}

// writeFeatures writes the claims about features, then the published figures.
func (v *modelView) writeFeatures(w *markup.Writer) {
	if len(v.Features) > 0 {
		openSection(w, "Features", "Features")
		w.Tag("\n<p class=\"lead-in\">Each line opens on who says so. The years lead to the claim’s own address, which stays.</p>\n")
		v.Features.write(w)
		closeSection(w)
	}
	if len(v.Specs) > 0 {
		openSection(w, "Figures", "Published figures")
		w.Tag("\n<p class=\"lead-in\">What the maker printed for new bows with the strings of the time. Before stringing, drawing or shooting an old bow read the cautions and ask a bowyer.</p>\n")
		v.Specs.write(w)
		closeSection(w)
	}
}

func (v *modelView) writeOrders(w *markup.Writer) {
	if len(v.Orders) == 0 {
		return
	}
	openSection(w, "Order", "What came before what")
	w.Tag("\n<p class=\"lead-in\">Known only relatively; the years of the claims are tightened by it.</p>\n<details class=\"group js-fold\" open><summary>").Int(len(v.Orders)).Tag(` statements</summary>`)
	v.Orders.write(w)
	w.Tag(`</details>`)
	closeSection(w)
}

// writeUnsettled writes what is disputed, and what no paper says.
func (v *modelView) writeUnsettled(w *markup.Writer) {
	section(w, len(v.Disputed), "Disputed", "Disputed", v.Disputed.write)
	if len(v.Derived) > 0 {
		openSection(w, "Derived", "Derived, not stated")
		w.Tag("\n<p class=\"lead-in\">No paper gives these years. They follow from other statements; each claim shows its chain.</p>\n<details class=\"group js-fold\" open><summary>").Int(len(v.Derived)).Tag(` of the claims</summary>`)
		v.Derived.write(w)
		w.Tag(`</details>`)
		closeSection(w)
	}
}

func (v *modelView) writeMissing(w *markup.Writer) {
	openSection(w, "Missing", "Missing")
	if len(v.Gaps) > 0 {
		w.Tag("\n<p class=\"lead-in\">Years in which the model was made and nobody says how it looked.</p>\n")
		v.Gaps.write(w)
	}
	if len(v.Silent) > 0 {
		w.Tag(`<p>Nothing is recorded of: `)
		for i, f := range v.Silent {
			if i > 0 {
				w.Tag(`, `)
			}
			w.Link(f.Href, f.Text)
		}
		w.Tag(`.</p>`)
	}
	if len(v.Gaps) == 0 && len(v.Silent) == 0 {
		w.Tag(`<p>Every feature on record is accounted for in every year.</p>`)
	}
	closeSection(w)
}

func (v *modelView) writeKin(w *markup.Writer) {
	if len(v.Related) == 0 {
		return
	}
	openSection(w, "Kin", "Related models")
	w.Tag("\n<ul class=\"pricelist\">")
	for _, r := range v.Related {
		w.Tag(`<li><div class="line"><span class="what">`).Text(r.How).Tag(` `).MaybeLink(r.Model.Href, r.Model.Text).Tag(`</span><span class="dots"></span>`)
		if r.Made != nil {
			writeYears(w, r.Made.Years, r.Made.Href)
		}
		w.Tag(`</div><span class="under">`)
		r.Cites.write(w)
		w.Tag("</span></li>\n")
	}
	w.Tag(`</ul>`)
	closeSection(w)
}
