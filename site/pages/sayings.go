package pages

import (
	"yearmark/schema"
	"yearmark/schema/english"
)

// sayingView is what somebody says, and where: what a value means, where to
// look first, a namesake, what is missing.
type sayingView struct {
	What    anchor
	Words   string
	Cites   []citeView
	Against []citeView
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
		list = append(list, sayingView{What: p.featureAnchor(h.Feature.Value), Words: h.Because.Value, Cites: p.cites(h.Cites)})
	}
	return list
}

func (p *page) namesakes(m *schema.Maker) []sayingView {
	var list []sayingView
	for _, n := range m.Namesakes {
		v := sayingView{What: anchor{Text: n.Name.Value}, Words: n.Tell.Value, Cites: p.cites(n.Cites)}
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
		v := sayingView{What: anchor{Text: capital(g.What.Value)}, Words: g.Because.Value, Cites: p.cites(g.Cites)}
		if !g.Span.IsZero() {
			v.What.Text += ", " + spanWords(g.Span)
		}
		list = append(list, v)
	}
	return list
}

// rates says on how many bows values were found, by those who say no years.
func (p *page) rates(all []*schema.Rate) []sayingView {
	var list []sayingView
	for _, r := range all {
		v := sayingView{What: p.featureAnchor(r.Feature.Value), Words: capital(r.Words()) + ".", Cites: p.cites(r.Cites)}
		v.What.Text += p.valueAfter(r.Feature.Value, r.Value.Value)
		if r.Note.Value != "" {
			v.Words += " " + schema.Sentence(r.Note.Value)
		}
		list = append(list, v)
	}
	return list
}

// valueAfter names a value behind its feature: ": Padauk"; nothing of a feature
// that is not on record.
func (p *page) valueAfter(feature, value string) string {
	f, known := p.ref.Features.Get(feature)
	if !known {
		return ""
	}
	return ": " + f.ClaimedName(value)
}

// neverSeen says what was never seen on bows of a model or a maker, with those who
// never saw it and those who did.
func (p *page) neverSeen(all []*schema.NeverSeen) []sayingView {
	var list []sayingView
	for _, n := range all {
		v := sayingView{What: p.featureAnchor(n.Feature.Value), Words: capital(p.ref.NeverSeenWords(n)), Cites: p.cites(n.Cites), Against: p.cites(n.Against)}
		v.What.Text += p.valueAfter(n.Feature.Value, n.Value.Value)
		var except []string
		for _, t := range n.Except {
			if m, known := p.ref.Models.Get(t.Value); known {
				except = append(except, m.Title())
			}
		}
		if len(except) > 0 {
			v.Words += "; not said of " + english.And(except)
		}
		v.Words += "."
		if n.Note.Value != "" {
			v.Words += " " + schema.Sentence(n.Note.Value)
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

// alsoView is the other names of something: those of which nothing more is known
// in one phrase, and the others each with its years and who says so.
type alsoView struct {
	Plain  string
	Called []sayingView
}

func (p *page) also(list []schema.OtherName) (v alsoView) {
	var plain []string
	for _, n := range list {
		if n.Plain() {
			plain = append(plain, n.Name.Value)
			continue
		}
		words := "Called “" + n.Name.Value + "”"
		if !n.Span.IsZero() {
			words += " " + spanWords(n.Span)
		}
		if len(n.Cites) > 0 {
			words += ", in "
		}
		v.Called = append(v.Called, sayingView{Words: words, Cites: p.cites(n.Cites)})
	}
	v.Plain = orWords(plain)
	return v
}

// ratesLead stands before counts that say no year.
const ratesLead = "On bows of whatever years, so it moves no odds."

// runs says how far the bows of a model's maker were from their stamps in years in
// which it was made.
func (p *page) runs(m *schema.Model) []sayingView {
	maker, known := p.ref.Makers.Get(m.Maker.Value)
	if !known {
		return nil
	}
	var list []sayingView
	for _, w := range maker.WeightMarks {
		runs := w.RunsWords()
		if runs == "" || !w.Span.IsZero() && m.Made != nil && !p.ref.Years(w.Span).Overlaps(p.facts.Timeline.Made(m)) {
			continue
		}
		words := "New bows of " + maker.Title() + " were " + runs + " their stamp"
		if w.When() != "" {
			words += ", " + w.When()
		}
		list = append(list, sayingView{Words: words, Cites: p.cites(w.Cites)})
	}
	return list
}
