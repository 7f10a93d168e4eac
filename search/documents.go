package search

import (
	"slices"
	"strings"

	"yearmark/schema"
	"yearmark/schema/edtf"
	"yearmark/schema/english"
)

// Documents gives everything of a reference that can be found: every record,
// era, declared value of a feature and place in a source that says something. years gives a claim's years once all
// that is known has been drawn upon; where it is nil the span as written
// counts. What an example keeps private is left out.
func Documents(ref *schema.Reference, years func(*schema.Claim) edtf.Years) []Document {
	w := &writer{ref: ref, years: years}
	for _, r := range ref.Records() {
		w.add(r)
	}
	return w.docs
}

// writer gathers the documents of a reference.
type writer struct {
	ref   *schema.Reference
	years func(*schema.Claim) edtf.Years
	docs  []Document
}

// add makes the documents of a record.
func (w *writer) add(r schema.Record) {
	switch r := r.(type) {
	case *schema.Maker:
		w.maker(r)
	case *schema.Model:
		w.model(r)
	case *schema.Feature:
		w.feature(r)
	case *schema.Source:
		w.source(r)
	case *schema.Example:
		w.example(r)
	case *schema.Page:
		w.page(r)
	}
}

// record begins the document of a record; its prose comes last, and is given as plain words.
func (w *writer) record(kind string, r schema.Record, about string, span edtf.Range, lines ...string) (d *Document, plain string) {
	plain = Plain(r.Header().Body.Text)
	w.docs = append(w.docs, Document{
		Kind: kind, ID: r.Header().ID, Title: r.Title(), About: about, Address: r.Address(),
		First: span.First, Last: span.Last, Text: joined(append(lines, plain)),
	})
	return &w.docs[len(w.docs)-1], plain
}

func (w *writer) maker(m *schema.Maker) {
	var lines, namesakes []string
	for _, n := range m.Namesakes {
		other := n.Name.Value
		if r, known := w.ref.Makers.Get(n.Maker.Value); known {
			other = r.Title()
		}
		namesakes = append(namesakes, "not "+other)
		lines = append(lines, other, n.Tell.Value)
	}
	for _, g := range m.Missing {
		lines = append(lines, g.What.Value, g.Because.Value)
	}
	for _, s := range m.SaysNothing {
		lines = append(lines, s.Because.Value)
	}
	var owners []string
	for _, o := range m.Owners {
		owners = append(owners, o.Name.Value)
		lines = append(lines, o.Name.Value+" "+o.Span.String(), o.Note.Value)
	}
	var holds []Held
	for _, c := range slices.Concat(m.Features, m.Specs) {
		lines = append(lines, w.claimLine(c), c.Note.Value)
		if h, ok := w.held(c); ok {
			holds = append(holds, h)
		}
	}
	for _, p := range m.People {
		owners = append(owners, p.Name.Value)
		lines = append(lines, p.Role.Value+" "+p.Name.Value+" "+p.Span.String(), p.Note.Value)
	}
	lines = append(lines, markLines(m.WeightMarks)...)
	lines = append(lines, w.rateLines(m.Counted)...)
	var span edtf.Range
	if m.Trading != nil {
		span = w.span(m.Trading)
	}
	d, _ := w.record(KindMaker, m, listed(append([]string{m.Place.Value, written(span)}, namesakes...)...), span, lines...)
	d.Maker, d.Holds = m.ID, holds
	d.Summary = joined(append([]string{alsoNames(m.Also), m.Place.Value}, owners...))
}

func (w *writer) model(m *schema.Model) {
	maker := w.makerName(m)
	lines := []string{maker, uses(m.Use)}
	var holds []Held
	for _, c := range m.Claims() {
		if line := w.claimLine(c); line != "" {
			lines = append(lines, line)
		}
		lines = append(lines, c.Note.Value)
		if c.Settled != nil {
			lines = append(lines, c.Settled.Because.Value)
		}
		if h, ok := w.held(c); ok {
			holds = append(holds, h)
		}
	}
	var made edtf.Range
	if m.Made != nil {
		made = w.span(m.Made)
	}
	for _, c := range w.ref.ClaimsOn(m) {
		if c.Maker == nil {
			continue // above
		}
		if h, ok := w.held(c); ok {
			if h, ok = h.within(made); ok {
				lines, holds = append(lines, w.claimLine(c)), append(holds, h)
			}
		}
	}
	for _, r := range m.Related {
		if other, ok := w.ref.Models.Get(r.Model.Value); ok && r.Tell.Value != "" {
			lines = append(lines, other.Title()+": "+r.Tell.Value)
		}
	}
	lines = append(lines, w.rateLines(m.Counted)...)
	d, plain := w.record(KindModel, m, listed(maker, written(made)), made, lines...)
	d.Maker, d.Model, d.Holds = m.Maker.Value, m.ID, holds
	d.Summary = joined([]string{m.Title(), alsoNames(m.Also), w.numbers(m), lead(plain)})
	for _, e := range m.Eras {
		w.era(m, e, maker, holds)
	}
}

// numbers gives what singles a model out besides its name: its model numbers.
func (w *writer) numbers(m *schema.Model) string {
	var list []string
	for _, c := range m.Features {
		if f, ok := w.ref.Features.Get(c.Feature.Value); ok && f.SinglesOut.Value {
			list = append(list, literal(c.Value.Value))
		}
	}
	return joined(list)
}

// era makes the document of an era: the values of its model that can be found in its years.
func (w *writer) era(m *schema.Model, e *schema.Claim, maker string, holds []Held) {
	span := w.span(e)
	d := Document{
		Kind: KindEra, ID: m.ID + "/" + e.ID.Value, Title: m.Title() + ": " + e.Name.Value,
		About: listed(maker, written(span)), Address: e.Address(), Maker: m.Maker.Value, Model: m.ID,
		First: span.First, Last: span.Last,
	}
	lines := []string{maker, uses(m.Use), eachYear(span), e.Note.Value}
	d.Holds = make([]Held, 0, len(holds))
	for _, h := range holds {
		years := h.years()
		if !meets(years, span) {
			continue
		}
		lines = append(lines, w.valueLine(h.Feature, h.Value))
		h.First, h.Last = max(years.First, span.First), min(years.Last, span.Last)
		d.Holds = append(d.Holds, h)
	}
	d.Text = joined(lines)
	w.docs = append(w.docs, d)
}

func (w *writer) feature(f *schema.Feature) {
	lines := []string{f.Look.Value, f.NotAFault.Value}
	for _, v := range f.Values {
		lines = append(lines, v.Name.Value, alsoNames(v.Also))
	}
	d, _ := w.record(KindFeature, f, f.Ask.Value, edtf.Range{}, lines...)
	d.Summary = f.Ask.Value
	for _, v := range f.Values {
		name := f.ValueName(v.ID.Value)
		w.docs = append(w.docs, Document{
			Kind: KindValue, ID: f.ID + "/" + v.ID.Value, Title: f.Title() + ": " + name, About: v.Tell.Value,
			Address: f.Address() + "#value-" + v.ID.Value, Summary: joined([]string{alsoNames(v.Also), v.Tell.Value}),
			Holds: []Held{{Feature: f.ID, Value: v.ID.Value}},
		})
	}
}

func (w *writer) source(s *schema.Source) {
	span := spanOf(s.Issued.Expr)
	kind := strings.ReplaceAll(s.Kind.Value, "-", " ")
	d, _ := w.record(KindSource, s, listed(kind, s.By.Value, s.Issued.String()), span, kind, s.By.Value, s.Issued.String(), s.Kept.Value)
	d.Summary = alsoNames(s.Also)
	w.places(s)
}

// aboutWords is how many letters of a place's words stand in a list of hits.
const aboutWords = 160

// places makes documents of the words that stand or were said at a source's
// places, as far as they may be shown. Of those with one name the first is listed.
func (w *writer) places(s *schema.Source) {
	if s.MayShow() == schema.ShowsNone {
		return
	}
	at := map[string]int{}
	for _, p := range s.EveryPlace() {
		words := p.Says.Value
		if words == "" {
			continue
		}
		about := s.Title() + ": “" + english.Clip(words, aboutWords) + "”"
		if by := s.SpeakerAt(p); by != "" {
			about = s.Title() + ", " + by + ": “" + english.Clip(words, aboutWords) + "”"
			words = joined([]string{by, words})
		}
		address := s.Address() + "#" + schema.Citation{Place: p.At.Value}.Anchor()
		if i, listed := at[address]; listed {
			w.docs[i].Summary = joined([]string{w.docs[i].Summary, words})
			continue
		}
		at[address] = len(w.docs)
		w.docs = append(w.docs, Document{
			Kind: KindPlace, ID: s.ID + "/" + p.At.Value, Title: p.At.Value, About: about,
			Address: address, Summary: words,
		})
	}
}

func (w *writer) example(e *schema.Example) {
	var span edtf.Range
	lines := []string{"example " + e.ID, e.By.Value, "weight mark " + e.WeightMark.Value}
	if e.Documented != nil {
		span = spanOf(e.Documented.Span.Expr)
		lines = append(lines, e.Documented.Span.String())
	}
	about, maker := "", ""
	if m, ok := w.ref.Models.Get(e.Model.Value); ok {
		about, maker = listed(w.makerName(m), m.Title()), m.Maker.Value
		lines = append(lines, about)
	}
	var holds []Held
	var notes []string
	for _, o := range e.Observed {
		for _, v := range o.Value {
			lines = append(lines, w.seenLine(o.Feature.Value, v.Value))
			if !o.OwnersWork() {
				holds = append(holds, w.observed(o.Feature.Value, v.Value, span))
			}
		}
		notes = append(notes, o.Note.Value)
	}
	for _, c := range e.Condition {
		lines = append(lines, c.Part.Value+" "+c.Words())
	}
	for _, p := range e.Pictures {
		lines = append(lines, p.Shows.Value)
	}
	for _, t := range e.Either {
		if m, ok := w.ref.Models.Get(t.Value); ok {
			lines = append(lines, "either "+m.Title())
		}
	}
	for _, a := range e.Attributed {
		lines = append(lines, "attributed "+a.By.Value+" "+a.Span.String())
	}
	for _, h := range e.History {
		lines = append(lines, h.On.String()+" "+h.What.Value)
	}
	for _, s := range e.Sales {
		lines = append(lines, "sold "+s.On.String()+" "+s.Price.Written)
	}
	d, _ := w.record(KindExample, e, listed(about, written(span)), span, lines...)
	d.Maker, d.Model, d.Holds, d.Summary = maker, e.Model.Value, holds, joined(notes)
}

func (w *writer) page(p *schema.Page) {
	d, _ := w.record(KindPage, p, p.About.Value, edtf.Range{})
	d.Summary = p.About.Value
}

// held is the value that a feature claim or spec gives its model.
func (w *writer) held(c *schema.Claim) (Held, bool) {
	span := w.span(c)
	h := Held{Feature: c.FeatureID(), First: span.First, Last: span.Last, Claim: c.Address(), When: w.ref.Conditions(c.When)}
	switch c.About {
	case schema.AboutFeature:
		h.Value, h.Name = c.Value.Value, w.called(c.Feature.Value, c.Value.Value)
	case schema.AboutSpec:
		h.Value, h.Low, h.High, h.IsFigure = c.Range.Written, c.Range.Low, c.Range.High, true
	default:
		return Held{}, false
	}
	return h, h.Feature != "" && h.Value != ""
}

// called is what people call a declared value or a thing that is present, with its feature's name.
func (w *writer) called(feature, value string) string {
	f, ok := w.ref.Features.Get(feature)
	if !ok {
		return ""
	}
	switch kind := schema.FeatureKind(f.Kind.Value); {
	case kind == schema.Choice:
		return f.ValueName(value) + " " + f.Title()
	case kind == schema.Presence && value == schema.Present:
		return f.Title()
	}
	return ""
}

// within cuts a value to the years of a model; ok is false where none are left.
func (h Held) within(made edtf.Range) (cut Held, ok bool) {
	if made == (edtf.Range{}) || h.First == 0 {
		return h, true
	}
	h.First, h.Last = max(h.First, made.First), min(h.Last, made.Last)
	return h, h.First <= h.Last
}

// observed is a value seen on an example; a figure is a range of one.
func (w *writer) observed(feature, value string, span edtf.Range) Held {
	h := Held{Feature: feature, Value: value, Name: w.called(feature, value), First: span.First, Last: span.Last}
	if f, ok := w.ref.Features.Get(feature); ok && schema.FeatureKind(f.Kind.Value) == schema.Figure {
		if figure, ok := figureOf(value); ok {
			h.Low, h.High, h.IsFigure = figure, figure, true
		}
	}
	return h
}

func (w *writer) makerName(m *schema.Model) string {
	if maker, ok := w.ref.Makers.Get(m.Maker.Value); ok {
		return maker.Title()
	}
	return m.Maker.Value
}

// span gives the years in which a claim can hold, or the zero range where none is known.
func (w *writer) span(c *schema.Claim) edtf.Range {
	if w.years == nil {
		if era, ok := w.eraOf(c); ok {
			return spanOf(era.Span.Expr)
		}
		return spanOf(c.Span.Expr)
	}
	return rangeOf(w.years(c))
}

// rangeOf gives the first and last possible year, or the zero range.
func rangeOf(y edtf.Years) edtf.Range {
	if y.Empty() {
		return edtf.Range{}
	}
	return edtf.Range{First: y.A, Last: y.D}
}

// eraOf finds the era whose years a claim shares.
func (w *writer) eraOf(c *schema.Claim) (*schema.Claim, bool) {
	if c.Model == nil || c.Era.Value == "" {
		return nil, false
	}
	return c.Model.Claim("era-" + c.Era.Value)
}

// spanOf gives the first and last year of a span as written.
func spanOf(e edtf.Expr) edtf.Range {
	first, okFirst := e.Earliest()
	last, okLast := e.Latest()
	switch {
	case okFirst && okLast:
		return edtf.Range{First: first, Last: last}
	case okFirst:
		return edtf.Range{First: first, Last: first}
	case okLast:
		return edtf.Range{First: last, Last: last}
	}
	return edtf.Range{}
}

// longestEra is the number of years beyond which an era's years are not all written out.
const longestEra = 100
