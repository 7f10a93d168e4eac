package pages

import "yearmark/schema"

// essayView is a page of prose.
type essayView struct {
	Base  base
	Name  string
	About string
	Text  textView
	Next  []anchor

	Record *recordView
}

func (p *page) essay(e *schema.Page) essayView {
	v := essayView{Name: e.Title(), About: e.About.Value, Text: p.text(e.Body, e)}
	for _, other := range p.essays() {
		if other.ID != e.ID && len(v.Next) < mostReading {
			v.Next = append(v.Next, anchor{p.to(other.Address()), other.Title()})
		}
	}
	v.Base = p.base(e.Title(), e.About.Value, "")
	v.Base.Trail = trail{{p.to("pages/index.html"), "Reading"}}
	v.Base.Scripts, v.Record = scripts("open.js"), recordOf(e)
	return v
}
