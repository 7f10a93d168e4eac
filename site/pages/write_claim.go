package pages

import (
	"html/template"

	"yearmark/site/markup"
)

// claimList is claims as lines that open on their proof.
type claimList []claimView

// HTML writes the list for a template.
func (l claimList) HTML() template.HTML { return piece(l.write) }

func (l claimList) write(w *markup.Writer) {
	w.Tag("<ul class=\"claims\">\n")
	for i := range l {
		l[i].write(w)
	}
	w.Tag("</ul>")
}

func (v *claimView) write(w *markup.Writer) {
	w.Tag(`<li class="claim" id="`).Text(v.Anchor).Tag(`"><div class="line"><span class="what">`)
	if v.Thumb != "" {
		w.Tag(`<img class="thumb" src="`).Address(v.Thumb).Tag(`" alt="" loading="lazy">`)
	}
	w.MaybeLink(v.Href, v.What)
	w.Tag(`</span><span class="dots"></span><a class="years" href="#`).Text(v.Anchor).Tag(`">`).Text(v.Years).Tag("</a></div>\n")
	writeFlags(w, v.Flags)
	v.Proof.write(w)
	w.Tag("</li>\n")
}

func writeFlags(w *markup.Writer, flags []flag) {
	if len(flags) == 0 {
		return
	}
	w.Tag(`<ul class="flags">`)
	for _, f := range flags {
		w.Tag(`<li class="flag flag-`).Text(f.Class).Tag(`">`).Text(f.Text).Tag(`</li>`)
	}
	w.Tag("</ul>\n")
}

func (v *proofView) write(w *markup.Writer) {
	if len(v.First) > 0 {
		w.Tag(`<p class="on-word">`)
		v.First.write(w)
		w.Tag(`</p>`)
	}
	w.Tag(`<details class="proof"><summary>`).Text(v.Summary).Tag("</summary><div class=\"proof-body\">\n")
	if len(v.For) > 0 {
		w.Tag(`<p class="proof-head">Who says so</p>`)
		writeWitnesses(w, v.For)
	}
	if len(v.Sightings) > 0 {
		w.Tag(`<p class="proof-head">Seen in</p><ul>`)
		for _, s := range v.Sightings {
			w.Tag(`<li><a class="years" href="`).Address(s.Href).Tag(`">`).Text(s.Year).Tag(`</a>: `)
			s.Cites.write(w)
			w.Tag(`</li>`)
		}
		w.Tag("</ul>\n")
	}
	if len(v.Against) > 0 {
		w.Tag(`<div class="against-list"><p class="proof-head">Who says otherwise</p>`)
		writeWitnesses(w, v.Against)
		w.Tag("</div>\n")
	}
	if v.Settled != "" {
		w.Tag(`<p><b>Settled:</b> `).Text(v.Settled).Tag("</p>\n")
	}
	for _, c := range v.Chains {
		w.Tag(`<p class="proof-head">Derived, not stated: `).Text(c.Words).Tag(`</p>`)
		writeSteps(w, c.Steps)
	}
	if v.Note != "" {
		w.Tag(`<p>`).Text(v.Note).Tag("</p>\n")
	}
	w.Tag(`<p class="credence">`).Text(v.Standing)
	if v.Line.Href != "" {
		w.Tag(` See `).Link(v.Line.Href, v.Line.Text).Tag(`.`)
	}
	w.Tag("</p>\n</div></details>\n")
}

func writeWitnesses(w *markup.Writer, list []witnessView) {
	w.Tag(`<ul>`)
	for _, v := range list {
		w.Tag(`<li>`)
		for i, c := range v.Cites {
			if i > 0 {
				w.Tag(`; `)
			}
			c.write(w)
			if c.Kind != "" {
				w.Tag(` <span class="soft">(`).Text(c.Kind).Tag(`)</span>`)
			}
			for _, via := range c.Via {
				w.Tag(` <span class="witness-via">← `).Link(via.Href, via.Text).Tag(`</span>`)
			}
		}
		w.Tag(` <span class="credence">believed `).Text(v.Credence).Tag("</span></li>\n")
	}
	w.Tag("</ul>\n")
}

// write links the citation's place in its source.
func (c *citeView) write(w *markup.Writer) {
	w.Tag(`<a href="`).Address(c.Href).Tag(`">`).Text(c.Text)
	if c.Place != "" {
		w.Tag(`, `).Text(c.Place)
	}
	w.Tag(`</a>`)
}

// citeList is citations in one line.
type citeList []citeView

// HTML writes the list for a template.
func (l citeList) HTML() template.HTML { return piece(l.write) }

func (l citeList) write(w *markup.Writer) {
	for i := range l {
		if i > 0 {
			w.Tag(`; `)
		}
		l[i].write(w)
	}
}

func writeSteps(w *markup.Writer, steps []stepView) {
	w.Tag(`<ol>`)
	for _, s := range steps {
		w.Tag(`<li>`).MaybeLink(s.Href, s.Sentence)
		if len(s.Cites) > 0 {
			w.Tag(` <span class="soft">[`)
			s.Cites.write(w)
			w.Tag(`]</span>`)
		}
		w.Tag("</li>\n")
	}
	w.Tag(`</ol>`)
}
