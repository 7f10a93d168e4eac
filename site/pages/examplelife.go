package pages

import (
	"bytes"
	"slices"
	"strings"

	"yearmark/bench"
	"yearmark/schema"
)

// lifeView is what is told of an example besides what was seen on it: what
// others make of its year, how its owner sets it up, what was done to it and
// what it fetched. None of it is evidence.
type lifeView struct {
	Opinions []opinionView
	Setup    []setupLine
	Withheld bool // a set-up is on record, and not shown for a fault
	History  []eventView
	Sales    []eventView
}

type opinionView struct {
	Years, By string
	From      []anchor
	Cites     []citeView
}

type setupLine struct{ What, Words string }

// eventView is something that was done, or a sale.
type eventView struct {
	On, What string
	Cites    []citeView
}

func (p *page) life(e *schema.Example) lifeView {
	v := lifeView{}
	for _, a := range e.Attributed {
		o := opinionView{Years: spanWords(a.Span), By: capital(a.By.Value), Cites: p.cites(a.Cites)}
		for _, id := range a.From {
			from := anchor{Text: id.Value}
			if f, ok := p.ref.Features.Get(id.Value); ok {
				from = anchor{p.to(f.Address()), strings.ToLower(f.Title())}
			}
			o.From = append(o.From, from)
		}
		v.Opinions = append(v.Opinions, o)
	}
	if v.Withheld = e.Setup != nil && unsafe(e); !v.Withheld {
		v.Setup = setupLines(e.Setup)
	}
	for _, h := range e.History {
		v.History = append(v.History, eventView{h.On.Words(), capital(h.What.Value), p.cites(h.Cites)})
	}
	for _, s := range e.Sales {
		price := "price not known"
		if !s.Price.IsZero() {
			price = rangeWords(s.Price)
		}
		v.Sales = append(v.Sales, eventView{s.On.Words(), price, p.cites(s.Cites)})
	}
	return v
}

// unsafe says that a fault on record keeps the bow from being strung.
func unsafe(e *schema.Example) bool { return bench.Unsafe(e.Faults()) }

// recordWithheld is the example's record as it is shown: without the owner's
// set-up where a fault keeps the bow from being strung, its lines left empty.
func recordWithheld(e *schema.Example) *recordView {
	if e.Setup == nil || !unsafe(e) {
		return recordOf(e)
	}
	top, err := schema.Locate(e.File, e.Source)
	if err != nil || top.Key("setup") == nil {
		return recordOf(e)
	}
	at := top.Key("setup")
	lines := bytes.Repeat([]byte("\n"), bytes.Count(e.Source[at.Start:at.End], []byte("\n")))
	source := slices.Concat(e.Source[:at.Start], []byte("…"), lines, e.Source[at.End:])
	return recordOf(&schema.Example{Head: schema.Head{File: e.File, Source: source, Body: e.Body}})
}

func setupLines(s *schema.Setup) []setupLine {
	if s == nil {
		return nil
	}
	var lines []setupLine
	for _, r := range []struct {
		what string
		of   schema.Range
	}{{"Brace height", s.Brace}, {"String", s.String}} {
		if !r.of.IsZero() {
			lines = append(lines, setupLine{r.what, rangeWords(r.of)})
		}
	}
	for _, t := range []struct{ what, words string }{{"Nocking point", s.NockingPoint.Value}, {"Arrow", s.Arrow.Value}, {"How it shoots", s.Shot.Value}} {
		if t.words != "" {
			lines = append(lines, setupLine{t.what, t.words})
		}
	}
	return lines
}
