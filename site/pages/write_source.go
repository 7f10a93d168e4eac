package pages

import "yearmark/site/markup"

// write writes the page of a source.
func (v *sourceView) write(w *markup.Writer) {
	v.Base.Trail.write(w)
	w.Tag("<div class=\"opening\">\n<h1>").Text(v.Name).Tag("</h1>\n")
	v.writeFacts(w)
	if v.Unseen {
		w.Tag("<p class=\"caution\"><strong>Not seen.</strong> Nobody of the register has consulted this source; what is cited from it is at second hand.</p>\n")
	}
	w.Tag("</div>\n")
	v.Text.writeStory(w, openOwn, "About it")
	openSection(w, "Rests", "What rests on it")
	if len(v.Places) == 0 {
		w.Tag(`<p>Nothing in the register cites it.</p>`)
	} else {
		w.Tag("\n<p class=\"lead-in\">").Int(v.Uses).Tag(` citations, `).Int(v.Claims).Tag(" different claims, place by place.</p>\n")
		for i := range v.Places {
			v.Places[i].write(w)
		}
	}
	closeSection(w)
	v.Text.Notes.write(w)
	v.Record.write(w)
}

func (v *sourceView) writeFacts(w *markup.Writer) {
	w.Tag(`<dl class="facts own"><dt>Kind</dt><dd>`).Text(v.Kind).Tag(`</dd>`)
	if v.By != "" {
		w.Tag(`<dt>By</dt><dd>`).Text(v.By).Tag(`</dd>`)
	}
	if v.Issued != "" {
		w.Tag(`<dt>Issued</dt><dd class="figure">`).Text(v.Issued).Tag(`</dd>`)
	}
	if v.Kept != "" {
		w.Tag(`<dt>Kept</dt><dd>`).Text(v.Kept).Tag(`</dd>`)
	}
	if v.LinkWords != "" {
		w.Tag(`<dt>Address</dt><dd>`)
		if v.Link != "" {
			w.Tag(`<a class="outside" rel="external noopener noreferrer" href="`).Address(v.Link).Tag(`">`).Text(v.LinkWords).Tag(`</a>`)
		} else {
			w.Text(v.LinkWords)
		}
		w.Tag(`</dd>`)
	}
	if v.Copied != "" {
		w.Tag(`<dt>Copy kept</dt><dd>`).Text(v.Copied)
		if v.Checksum != "" {
			w.Tag(`<br><span class="fixed checksum">SHA-256 `).Text(v.Checksum).Tag(`</span>`)
		}
		w.Tag(`</dd>`)
	}
	w.Tag(`<dt>Believed</dt><dd>`).Text(v.Believed).Tag(` <a class="small" href="`).Address(v.Base.Root).Tag(`odds.html#Credence">why</a></dd>`)
	if len(v.ReliesOn) > 0 {
		w.Tag(`<dt>Relies on</dt><dd>`)
		writeAnchors(w, v.ReliesOn)
		w.Tag(`</dd>`)
	}
	if len(v.ReliedOnBy) > 0 {
		w.Tag(`<dt>Relied on by</dt><dd>`)
		writeAnchors(w, v.ReliedOnBy)
		w.Tag(`</dd>`)
	}
	w.Tag("</dl>\n")
}

// writeAnchors writes links in one line.
func writeAnchors(w *markup.Writer, list []anchor) {
	for i, a := range list {
		if i > 0 {
			w.Tag(`; `)
		}
		w.Link(a.Href, a.Text)
	}
}
