package pages

import "yearmark/site/markup"

// write writes the page of a feature, or a further part of it.
func (v *featureView) write(w *markup.Writer) {
	v.Base.Trail.write(w)
	v.writeOpening(w)
	v.writeValues(w)
	v.Text.writeStory(w, openSection, "Notes for the eye")
	if v.Chart != nil {
		openSection(w, "Chart", "Who had which, and when")
		w.Tag("\n<p class=\"lead-in\">").Int(v.Claims).Tag(` claims about `).Int(v.Models).Tag(" models.</p>\n")
		v.Chart.write(w)
		closeSection(w)
	}
	v.Parts.write(w)
	v.Text.Notes.write(w)
	if v.Record != nil {
		v.Record.write(w)
	}
}

func (v *featureView) writeOpening(w *markup.Writer) {
	writeDivided(w, v.Picture != "")
	w.Tag("<div>\n<h1>").Text(v.Name).Tag("</h1>\n")
	if v.Ask != "" {
		w.Tag(`<p class="standfirst">`).Text(v.Ask).Tag("</p>\n")
	}
	if v.First {
		v.writeFacts(w)
	}
	v.Parts.write(w)
	w.Tag(`</div>`)
	if v.Picture != "" {
		w.Tag(`<figure class="plate plate-wide"><img src="`).Address(v.Picture).Tag(`" alt="Where to look: `).Text(v.Name).Tag(`"></figure>`)
	}
	w.Tag("</div>\n")
}

func (v *featureView) writeFacts(w *markup.Writer) {
	if v.Look != "" {
		w.Tag(`<p class="look"><b>Where to look.</b> `).Text(v.Look).Tag("</p>\n")
	}
	w.Tag(`<dl class="facts"><dt>What is asked</dt><dd>`).Text(v.Kind)
	w.Tag(`</dd><dt>A look costs</dt><dd>`).Text(v.Effort)
	w.Tag(`</dd><dt>How strict</dt><dd>`).Text(v.Held).Tag(`</dd>`)
	if v.Altered != "" {
		w.Tag(`<dt>Altered later</dt><dd>`).Text(v.Altered).Tag(`</dd>`)
	}
	w.Tag("</dl>\n")
}

// writeValues writes what the feature can be, and who had it.
func (v *featureView) writeValues(w *markup.Writer) {
	if len(v.Values) == 0 {
		return
	}
	openSection(w, "Values", "What it can be")
	w.Tag("\n<ul class=\"cards\">")
	for i := range v.Values {
		value := &v.Values[i]
		w.Tag(`<li class="card" id="`).Text(value.Anchor).Tag(`">`)
		writePlate(w, value.Picture)
		w.Tag(`<h3>`).Text(value.Name).Tag(`</h3>`)
		if value.Tell != "" {
			w.Tag(`<p>`).Text(value.Tell).Tag(`</p>`)
		}
		value.writeUsers(w)
		if value.Seen != "" {
			w.Tag(`<p class="soft">Seen on <a href="`).Address(v.Base.Root).Tag(`census.html#Features">`).Text(value.Seen).Tag(`</a></p>`)
		}
		w.Tag("</li>\n")
	}
	w.Tag(`</ul>`)
	closeSection(w)
}

func (v *valueView) writeUsers(w *markup.Writer) {
	w.Tag(`<p class="soft">`)
	v.Users.write(w)
	switch {
	case len(v.Users) == 0:
		w.Tag(`No model on record.`)
	case v.More > 0:
		w.Tag(`, and `).Int(v.More).Tag(` more`)
	}
	w.Tag(`</p>`)
}
