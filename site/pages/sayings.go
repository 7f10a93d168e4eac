package pages

import (
	"yearmark/schema"
)

// sayingView is what somebody says, and where: what a value means, where to
// look first, a namesake, what is missing.
type sayingView struct {
	What  anchor
	Words string
	Cites []citeView
}

func (p *page) meanings(f *schema.Feature) []sayingView {
	var list []sayingView
	for _, m := range f.Means {
		v := sayingView{What: anchor{Text: f.Title()}, Words: "“" + m.Says.Value + "”", Cites: p.cites(m.Cites)}
		if id := m.Value.Value; id != "" {
			v.What.Text = capital(f.ValueName(id))
		}
		if m.By.Value != "" {
			v.Words += ", says " + m.By.Value
		}
		list = append(list, v)
	}
	return list
}

func (p *page) lookFirst(hints []*schema.Hint) []sayingView {
	var list []sayingView
	for _, h := range hints {
		list = append(list, sayingView{p.featureAnchor(h.Feature.Value), h.Because.Value, p.cites(h.Cites)})
	}
	return list
}

func (p *page) namesakes(m *schema.Maker) []sayingView {
	var list []sayingView
	for _, n := range m.Namesakes {
		v := sayingView{anchor{Text: n.Name.Value}, n.Tell.Value, p.cites(n.Cites)}
		if other, known := p.ref.Makers.Get(n.Maker.Value); known {
			v.What = anchor{p.to(other.Address()), other.Title()}
		}
		list = append(list, v)
	}
	return list
}

func (p *page) missing(m *schema.Maker) []sayingView {
	var list []sayingView
	for _, g := range m.Missing {
		v := sayingView{anchor{Text: capital(g.What.Value)}, g.Because.Value, p.cites(g.Cites)}
		if !g.Span.IsZero() {
			v.What.Text += ", " + spanWords(g.Span)
		}
		list = append(list, v)
	}
	return list
}

// either names the models of which a bow may be one.
func (p *page) either(e *schema.Example) []anchor {
	var list []anchor
	for _, t := range e.Either {
		if m, known := p.ref.Models.Get(t.Value); known {
			list = append(list, anchor{p.to(m.Address()), m.Title()})
		}
	}
	return list
}
