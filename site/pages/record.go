package pages

import (
	"bytes"
	"html/template"
	"strconv"

	"yearmark/schema"
	"yearmark/site/listing"
	"yearmark/site/markup"
)

// recordView is the record that a page is made from, as it was written.
type recordView struct {
	of      schema.Record
	Lines   int
	TooLong bool // for its page
}

// mostRecord bounds the bytes of a record that stand on its page, so that no
// page becomes heavy by it.
const mostRecord = 64 << 10

func recordOf(r schema.Record) *recordView {
	source := r.Header().Source
	return &recordView{of: r, Lines: bytes.Count(source, []byte("\n")), TooLong: len(source) > mostRecord}
}

// HTML writes the record for a template.
func (v *recordView) HTML() template.HTML { return piece(v.write) }

// write writes the section of a page that shows its record, or nothing where
// the record cannot be taken apart.
func (v *recordView) write(w *markup.Writer) {
	start := w.Len()
	openOwn(w, "Record", "The record itself")
	w.Tag("\n<p class=\"lead-in\">This page is made from <span class=\"fixed\">").Text(v.of.Header().File).Tag(`</span>`)
	if v.TooLong {
		w.Tag(`, whose `).Int(v.Lines).Tag(" lines are too many to stand here. What is private is left out.</p>\n</section>\n")
		return
	}
	w.Tag(", as its keeper wrote it. What is private is left out.</p>\n<details class=\"behind record\"><summary>Its ").Int(v.Lines).Tag(` lines</summary>`)
	if err := listing.Write(w, v.of); err != nil {
		w.Back(start)
		return
	}
	w.Tag("</details></section>\n")
}

// lineOf leads to the line of the record that states a claim, on the claim's
// own page; it is empty on other pages.
func (p *page) lineOf(c *schema.Claim) anchor {
	var home schema.Record = c.Maker
	if c.Model != nil {
		home = c.Model
	} else if c.Maker == nil {
		return anchor{}
	}
	if p.path != home.Address() || c.Pos.IsZero() || len(home.Header().Source) > mostRecord {
		return anchor{}
	}
	line := strconv.Itoa(c.Pos.Line())
	return anchor{"#" + listing.LinePrefix + line, "line " + line + " of the record"}
}
