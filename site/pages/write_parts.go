package pages

import (
	"html/template"
	"sync"

	"yearmark/site/markup"
)

// The pages of makers, models, features, sources and examples, and the lists and
// parts of all, are written by methods write; a method HTML gives the same to a
// template. See package markup for why they are no templates.

// writers are used again from page to page, and from piece to piece.
var writers = sync.Pool{New: func() any { return markup.New(64 << 10) }}

// piece gives what write writes, for a template.
func piece(write func(*markup.Writer)) template.HTML {
	w := writers.Get().(*markup.Writer)
	defer writers.Put(w)
	w.Back(0)
	write(w)
	return template.HTML(w.Bytes())
}

// trail is the ways up from a page.
type trail []anchor

// HTML writes the trail for a template.
func (t trail) HTML() template.HTML { return piece(t.write) }

func (t trail) write(w *markup.Writer) {
	if len(t) == 0 {
		return
	}
	w.Tag(`<p class="trail">`)
	for i, a := range t {
		if i > 0 {
			w.Tag(` › `)
		}
		w.Link(a.Href, a.Text)
	}
	w.Tag("</p>\n")
}

// Block is the prose for a template, set as running text.
func (v textView) Block() template.HTML { return piece(v.write) }

func (v *textView) write(w *markup.Writer) {
	if v.HTML != "" {
		w.Tag(`<div class="text">`).HTML(v.HTML).Tag("</div>\n")
	}
}

// partList leads to the parts of a list too long for one page.
type partList []partView

// HTML writes the list for a template.
func (l partList) HTML() template.HTML { return piece(l.write) }

func (l partList) write(w *markup.Writer) {
	if len(l) == 0 {
		return
	}
	w.Tag(`<nav aria-label="Parts of this list"><ul class="parts">`)
	for _, p := range l {
		switch {
		case p.Href == "":
			w.Tag(`<li><span aria-hidden="true">`).Text(p.Text).Tag(`</span></li>`)
		case p.Here:
			w.Tag(`<li><a href="`).Address(p.Href).Tag(`" aria-current="page">`).Text(p.Text).Tag(`</a></li>`)
		default:
			w.Tag(`<li>`).Link(p.Href, p.Text).Tag(`</li>`)
		}
	}
	w.Tag("</ul></nav>\n")
}

// noteList is the notes of a page.
type noteList []noteView

// HTML writes the notes for a template.
func (l noteList) HTML() template.HTML { return piece(l.write) }

func (l noteList) write(w *markup.Writer) {
	if len(l) == 0 {
		return
	}
	openSection(w, "Notes", "Notes")
	w.Tag("<ol class=\"notes\">\n")
	for _, n := range l {
		w.Tag(`<li id="`).Text(n.ID).Tag(`">`).Link(n.Source.Href, n.Source.Text)
		if n.Source.Place != "" {
			w.Tag(`, `).Text(n.Source.Place)
		}
		for i, mark := range n.Marks {
			w.Tag(` <a href="#`).Text(mark).Tag(`" aria-label="back to where note `).Int(n.Number).Tag(` is cited`)
			if i > 0 {
				w.Tag(` again`)
			}
			w.Tag(`">↩</a>`)
		}
		w.Tag("</li>\n")
	}
	w.Tag("</ol></section>\n")
}

// tallyList is what a page counts.
type tallyList []tallyView

// HTML writes the counts for a template.
func (l tallyList) HTML() template.HTML { return piece(l.write) }

func (l tallyList) write(w *markup.Writer) {
	if len(l) == 0 {
		return
	}
	w.Tag(`<ul class="tally">`)
	for _, t := range l {
		w.Tag(`<li>`)
		if t.Href != "" {
			w.Tag(`<a href="`).Address(t.Href).Tag(`">`)
		}
		w.Tag(`<b>`).Int(t.Number).Tag(`</b> `).Text(t.Of)
		if t.Href != "" {
			w.Tag(`</a>`)
		}
		w.Tag(`</li>`)
	}
	w.Tag("</ul>\n")
}

// withdrawnList is claims that were taken back.
type withdrawnList []withdrawnView

// HTML writes the list for a template.
func (l withdrawnList) HTML() template.HTML { return piece(l.write) }

func (l withdrawnList) write(w *markup.Writer) {
	if len(l) == 0 {
		return
	}
	openSection(w, "Withdrawn", "Withdrawn")
	w.Tag("\n<p class=\"lead-in\">Published once, and taken back. The address of each stays.</p>\n<ul class=\"claims\">")
	for _, v := range l {
		w.Tag(`<li class="claim" id="`).Text(v.Anchor).Tag(`"><b>`).Text(v.Anchor).Tag(`</b>: `).Text(v.Because)
		if v.On != "" {
			w.Tag(` <span class="soft">(`).Text(v.On).Tag(`)</span>`)
		}
		w.Tag("</li>\n")
	}
	w.Tag("</ul></section>\n")
}

// openSection begins a section of a page, whose heading names it.
func openSection(w *markup.Writer, id, heading string) { openKind(w, "section", id, heading) }

// openOwn begins a section of what the record says of itself, whose years need
// no source beside them.
func openOwn(w *markup.Writer, id, heading string) { openKind(w, "section own", id, heading) }

func openKind(w *markup.Writer, class, id, heading string) {
	w.Tag(`<section class="`).Text(class).Tag(`" aria-labelledby="`).Text(id).Tag(`"><h2 id="`).Text(id).Tag(`">`).Text(heading).Tag(`</h2>`)
}

func closeSection(w *markup.Writer) { w.Tag("</section>\n") }

// section writes a section that is nothing but a list, if there is any.
func section(w *markup.Writer, items int, id, heading string, write func(*markup.Writer)) {
	if items > 0 {
		openSection(w, id, heading)
		write(w)
		closeSection(w)
	}
}

// writeStory writes a record's prose under a heading, if it has any, in a
// section that open begins.
func (v *textView) writeStory(w *markup.Writer, open func(w *markup.Writer, id, heading string), heading string) {
	if v.HTML == "" {
		return
	}
	open(w, "Story", heading)
	w.Tag("\n")
	v.write(w)
	closeSection(w)
}
