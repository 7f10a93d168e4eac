package pages

import (
	"math"
	"slices"
	"strings"

	"yearmark/bench"
	"yearmark/dating"
	"yearmark/schema"
	"yearmark/site/charts"
)

// exampleView is the page of one examined bow.
type exampleView struct {
	Either              []anchor // the models of which it may be one
	Base                base
	Name, ID            string
	Model, Maker        anchor
	Seen, By            string
	Pictures            []pictureView
	Observed            []observedView
	WeightMark, Decoded string
	DecodedCites        []citeView
	Documented          *documentedView
	Condition           []conditionView
	Life                lifeView
	Text                textView
	Dating              *datingView
	DateHref            string
	Unsafe              string // why it is not to be strung; empty where no such fault is on record
	Submitted           *submittedView
	Cited               []placeView
	Record              *recordView
}

// observedView is one feature as seen, with its part in the dating.
type observedView struct {
	Feature   anchor
	Values    []anchor
	Flags     []flag
	Note      string
	Decibans  string
	Claims    []groundView
	HasWeight bool
}

// groundView is a claim behind an observation.
type groundView struct {
	Words, Years, Href string
	Seen               bool
}

type documentedView struct {
	Years, Href string // Href leads to the first citation
	Cites       []citeView
	Verdict     string // what the features make of that year
}

// submittedView is how a bow was received that a visitor of the site sent.
type submittedView struct {
	On         string
	Unreviewed bool
	Note       string // the visitor's words, plain text with lines
}

type conditionView struct{ Part, State string }

func (p *page) example(e *schema.Example) exampleView {
	v := exampleView{
		Name: e.Title(), ID: e.ID, Seen: e.Seen.String(), By: e.By.Value, Text: p.text(e.Body, e),
		WeightMark: e.WeightMark.Value, DateHref: p.to("date.html#" + dateState(p.ref, e)),
	}
	model, known := p.ref.Models.Get(e.Model.Value)
	if known {
		v.Model = anchor{p.to(model.Address()), model.Title()}
		if maker, ok := p.ref.Makers.Get(model.Maker.Value); ok {
			v.Maker = anchor{p.to(maker.Address()), maker.Title()}
			v.Decoded = decode(e.WeightMark.Value, maker)
			if v.Decoded != "" {
				v.DecodedCites = p.cites(markCites(maker))
			}
		}
	}
	for _, shown := range e.Pictures {
		if view, ok := p.pictureOf(shown.File.Value, shown.Shows.Value); ok {
			v.Pictures = append(v.Pictures, view)
		}
	}
	if len(v.Pictures) == 0 && known {
		if view, ok := p.pictureOf(model.Picture.Value, "There is no picture of this bow; so the "+model.Title()+" is drawn"); ok {
			v.Pictures = append(v.Pictures, view)
		}
	}
	v.Life, v.Either = p.life(e), p.either(e)
	if unsafe(e) {
		v.Unsafe = bench.WithFault
	}
	for _, c := range e.Condition {
		v.Condition = append(v.Condition, conditionView{capital(c.Part.Value), c.Words()})
	}
	if s := e.Submitted; s != nil {
		v.Submitted = &submittedView{On: s.On.String(), Unreviewed: e.Unreviewed(), Note: s.Note.Value}
	}
	answer := p.dated.of(e)
	v.Dating = p.datingOf(answer)
	v.Observed = p.observed(e, answer)
	v.Documented = p.documented(e, answer)
	v.Cited = p.places(p.restingOn("example-" + e.ID))
	v.Base = p.base(e.Title(), "A bow examined for the register: what was seen on it and what that makes of its year.", "examples/index.html")
	v.Base.Trail = []anchor{{p.to("examples/index.html"), "Examples"}}
	v.Base.Scripts, v.Record = scripts("open.js"), recordWithheld(e)
	return v
}

// decode reads a stamped weight by its maker's convention.
func decode(mark string, m *schema.Maker) string {
	if mark == "" || len(m.WeightMarks) == 0 {
		return ""
	}
	list, err := dating.ReadStamp(m, mark)
	if err != nil {
		return ""
	}
	return dating.StampWords(list)
}

// markCites gives who says how a maker's stamps read, each once.
func markCites(m *schema.Maker) []schema.Citation {
	var list []schema.Citation
	for _, w := range m.WeightMarks {
		for _, c := range w.Cites {
			if !slices.ContainsFunc(list, func(other schema.Citation) bool { return other.String() == c.String() }) {
				list = append(list, c)
			}
		}
	}
	return list
}

func (p *page) documented(e *schema.Example, answer *dating.Account) *documentedView {
	if e.Documented == nil {
		return nil
	}
	v := &documentedView{Years: spanWords(e.Documented.Span), Cites: p.cites(e.Documented.Cites)}
	if len(v.Cites) > 0 {
		v.Href = v.Cites[0].Href
	}
	if answer == nil || answer.Impossible {
		return v
	}
	span := p.ref.Years(e.Documented.Span)
	switch {
	case holdsAny(answer.Strict.Years, span):
		v.Verdict = "Its features, each taken at its word, allow that year."
	case holdsAny(answer.Likely95, span):
		v.Verdict = "Its features do not all allow that year, but on balance it is among the likely ones."
	default:
		v.Verdict = "Its features speak against that year."
	}
	return v
}

// observed lists what was seen, with what each observation weighs.
func (p *page) observed(e *schema.Example, answer *dating.Account) []observedView {
	var list []observedView
	odd := oddOneOut(answer)
	weights := map[string]dating.Evidence{}
	if answer != nil {
		for _, ev := range answer.Evidence {
			weights[ev.Feature] = ev
		}
	}
	for _, o := range e.Observed {
		v := observedView{Feature: anchor{Text: o.Feature.Value}, Note: o.Note.Value}
		if words := sureWords[o.Sureness()]; words != "" {
			v.Flags = append(v.Flags, flag{"doubted", words})
		}
		if o.OwnersWork() {
			v.Flags = append(v.Flags, flag{"doubted", "an owner’s, no evidence of the year"})
		}
		f, known := p.ref.Features.Get(o.Feature.Value)
		if known {
			v.Feature = anchor{p.to(f.Address()), f.Title()}
		}
		for _, value := range o.Value {
			v.Values = append(v.Values, p.seenValue(f, known, value.Value))
		}
		if ev, ok := weights[o.Feature.Value]; ok && !o.OwnersWork() {
			v.HasWeight, v.Decibans = true, decibans(ev.Decibans)
			v.Claims = p.grounds(ev.Claims)
			if ev.Feature == odd {
				v.Flags = append(v.Flags, flag{"disputed", "odd one out"})
			}
		}
		list = append(list, v)
	}
	return list
}

func (p *page) seenValue(f *schema.Feature, known bool, value string) anchor {
	if !known {
		return anchor{Text: value}
	}
	a := anchor{Text: capital(f.ValueName(value))}
	if _, declared := f.Value(value); declared {
		a.Href = p.to(f.Address()) + "#" + valueAnchor(value)
	}
	if f.Unit.Value != "" && a.Href == "" && !strings.Contains(value, f.Unit.Value) {
		a.Text += " " + f.Unit.Value
	}
	return a
}

// mostGrounds is how many claims stand beside one observation.
const mostGrounds = 4

func (p *page) grounds(list []dating.Ground) []groundView {
	var views []groundView
	for _, g := range list {
		if len(views) < mostGrounds && g.Claim != nil {
			views = append(views, groundView{p.what(g.Claim), g.Years.String(), p.claimHref(g.Claim), g.Seen})
		}
	}
	return views
}

// decibans prints a weight of evidence with its sign, if it is any at the
// figures printed: the sign of what rounds to nought hangs on the last bit.
func decibans(x float64) string {
	switch figures := charts.Decimal(math.Abs(x), 1); {
	case figures == "0.0":
		return figures
	case x < 0:
		return "−" + figures
	default:
		return "+" + figures
	}
}
