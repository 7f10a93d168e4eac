package pages

import "yearmark/schema"

// documentView is a page of prose.
type documentView struct {
	Base  base
	Name  string
	About string
	Text  textView
	Next  []anchor

	Record *recordView
}

func (p *page) document(e *schema.Page) documentView {
	v := documentView{Name: e.Title(), About: e.About.Value, Text: p.text(e.Body, e)}
	for _, other := range p.documents() {
		if other.ID != e.ID && len(v.Next) < mostReading {
			v.Next = append(v.Next, anchor{p.to(other.Address()), other.Title()})
		}
	}
	v.Base = p.base(e.Title(), e.About.Value, "")
	v.Base.Trail = []anchor{{p.to("pages/index.html"), "Reading"}}
	v.Base.Scripts, v.Record = scripts("open.js"), p.ownRecord(e)
	return v
}
