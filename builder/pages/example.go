package pages

import (
	"cmp"
	"html/template"
	"net/url"
	"slices"
	"strings"

	"yearmark/bench"
	"yearmark/builder/charts"
	"yearmark/dating"
	"yearmark/schema"
	"yearmark/schema/edtf"
)

// exampleView is the page of one examined bow.
type exampleView struct {
	Base                base
	Name, ID            string
	Model, Maker        anchor
	Seen, By            string
	Pictures            []pictureView
	Observed            observedList
	WeightMark, Decoded string
	DecodedCites        citeList
	Documented          *documentedView
	Condition           []conditionView
	Text                textView
	Dating              *datingView
	DateHref            string
	Cited               []placeView
}

// observedView is one feature as seen, with its part in the dating.
type observedView struct {
	Feature    anchor
	Values     []anchor
	Sure, Note string
	Decibans   string
	Favours    bool
	OddOneOut  bool
	Claims     []groundView
	HasWeight  bool
}

// groundView is a claim behind an observation.
type groundView struct {
	Words, Years, Href string
	Seen               bool
}

type documentedView struct {
	Years, Href string // Href leads to the first citation
	Cites       citeList
	Verdict     string // what the features make of that year
}

type conditionView struct{ Part, State string }

// datingView is the engine's answer about one bow.
type datingView struct {
	Impossible   bool
	Verdict, Sub string
	Strict       string
	OddOnes      []oddView
	OddOne       string // the likeliest to be the odd one out
	Conflicts    []string
	Bars         template.HTML
	Table        yearTable
	Models       []modelChance
}

type oddView struct{ Feature, Then string }

type yearRow struct{ Year, Chance string }

type modelChance struct {
	Model  anchor
	Chance string
}

func (p *page) example(e *schema.Example) exampleView {
	v := exampleView{
		Name: e.Title(), ID: e.ID, Seen: e.Seen.String(), By: e.By.Value, Text: p.text(e.Body, e),
		WeightMark: e.WeightMark.Value, DateHref: p.to("date.html#" + dateState(e)),
	}
	model, known := p.ref.Models.Get(e.Model.Value)
	if known {
		v.Model = anchor{p.to(model.Address()), model.Title()}
		if maker, ok := p.ref.Makers.Get(model.Maker.Value); ok {
			v.Maker = anchor{p.to(maker.Address()), maker.Title()}
			v.Decoded = decode(e.WeightMark.Value, maker)
			if maker.WeightMarks != nil && v.Decoded != "" {
				v.DecodedCites = p.cites(maker.WeightMarks.Cites)
			}
		}
	}
	for _, shown := range e.Pictures {
		if view, ok := p.pictureOf(shown.File.Value, shown.Shows.Value); ok {
			v.Pictures = append(v.Pictures, view)
		}
	}
	for _, c := range e.Condition {
		v.Condition = append(v.Condition, conditionView{capital(c.Part.Value), c.State.Value})
	}
	answer := p.dated.of(e)
	v.Dating = p.datingOf(answer)
	v.Observed = p.observed(e, answer)
	v.Documented = p.documented(e, answer)
	if cited := p.cited()["example-"+e.ID]; cited != nil {
		v.Cited = p.places(cited)
	}
	v.Base = p.base(e.Title(), "A bow examined for the register: what was seen on it and what that makes of its year.", "examples/index.html")
	v.Base.Trail = []anchor{{p.to("examples/index.html"), "Examples"}}
	return v
}

// decode reads a stamped weight by its maker's convention.
func decode(mark string, m *schema.Maker) string {
	if mark == "" || m.WeightMarks == nil {
		return ""
	}
	signs := func(list []schema.MarkSign) map[string]float64 {
		adds := map[string]float64{}
		for _, s := range list {
			adds[s.Sign.Value] = s.Adds.Low
		}
		return adds
	}
	w, err := bench.ReadWeightMark(mark, bench.Convention{Before: signs(m.WeightMarks.Before), After: signs(m.WeightMarks.After)})
	if err != nil {
		return ""
	}
	words := figure(w.Pounds) + " lb"
	if w.Draw > 0 {
		words += " at " + figure(w.Draw) + " in"
	}
	return words
}

func (p *page) documented(e *schema.Example, answer *dating.Answer) *documentedView {
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
	span := e.Documented.Span.Years(edtf.Frame{Horizon: p.ref.Horizon(), Circa: p.ref.Settings.Judgement.Circa.Value})
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

// holdsAny says whether one of the listed years is possible in the span.
func holdsAny(list []dating.ModelYears, span edtf.Years) bool {
	return slices.ContainsFunc(list, func(m dating.ModelYears) bool { return slices.ContainsFunc(m.Years, span.Possible) })
}

// observed lists what was seen, with what each observation weighs.
func (p *page) observed(e *schema.Example, answer *dating.Answer) observedList {
	var list observedList
	odd := oddOneOut(answer)
	weights := map[string]dating.Evidence{}
	if answer != nil {
		for _, ev := range answer.Evidence {
			weights[ev.Feature] = ev
		}
	}
	for _, o := range e.Observed {
		v := observedView{Feature: anchor{Text: o.Feature.Value}, Note: o.Note.Value, Sure: sureWords[o.Sureness()]}
		f, known := p.ref.Features.Get(o.Feature.Value)
		if known {
			v.Feature = anchor{p.to(f.Address()), f.Title()}
		}
		for _, value := range o.Value {
			v.Values = append(v.Values, p.seenValue(f, known, value.Value))
		}
		if ev, ok := weights[o.Feature.Value]; ok {
			v.HasWeight, v.Favours = true, ev.Decibans >= 0
			v.Decibans = decibans(ev.Decibans)
			v.Claims = p.grounds(ev.Claims)
			v.OddOneOut = ev.Feature == odd
		}
		list = append(list, v)
	}
	return list
}

// oddOneOut is the feature that speaks most against the likeliest year of
// those without which the others could stand together; empty where all agree.
func oddOneOut(a *dating.Answer) string {
	if a == nil {
		return ""
	}
	odd, least := "", 0.0
	for _, w := range a.Strict.Without {
		for _, ev := range a.Evidence {
			if ev.Feature == w.Feature && len(w.Years) > 0 && (odd == "" || ev.Decibans < least) {
				odd, least = ev.Feature, ev.Decibans
			}
		}
	}
	return odd
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

// decibans prints a weight of evidence with its sign.
func decibans(x float64) string {
	sign := "+"
	if x < 0 {
		sign, x = "−", -x
	}
	return sign + charts.Decimal(x, 1)
}

func (p *page) datingOf(a *dating.Answer) *datingView {
	if a == nil || len(a.Observed) == 0 {
		return nil
	}
	if a.Impossible {
		return &datingView{Impossible: true}
	}
	v := &datingView{Verdict: p.headline(a.Likely50), Strict: p.headline(a.Strict.Years)}
	v.Sub = "Half the odds lie here, 95 % in " + p.headline(a.Likely95) + "."
	for _, w := range a.Strict.Without {
		if len(w.Years) > 0 {
			v.OddOnes = append(v.OddOnes, oddView{p.featureTitle(w.Feature), p.modelYearsWords(w.Years)})
		}
	}
	for _, c := range a.Strict.Conflicts {
		var names []string
		for _, id := range c {
			names = append(names, p.featureTitle(id))
		}
		v.Conflicts = append(v.Conflicts, listWords(names))
	}
	if odd := oddOneOut(a); odd != "" {
		v.OddOne = p.featureTitle(odd)
	}
	p.datingChart(a, v)
	for _, m := range a.Models {
		if model, ok := p.ref.Models.Get(m.Model); ok && len(v.Models) < 6 && m.Chance >= .005 {
			v.Models = append(v.Models, modelChance{anchor{p.to(model.Address()), model.Title()}, charts.Percent(m.Chance)})
		}
	}
	return v
}

// datingChart draws the odds year by year.
func (p *page) datingChart(a *dating.Answer, v *datingView) {
	held, strict := yearSet(a.Likely50), yearSet(a.Strict.Years)
	var list []charts.Chance
	var ranges []edtf.Range
	for _, y := range a.Years {
		list = append(list, charts.Chance{Year: y.Year, Chance: y.Chance, Held: held[y.Year], Strict: strict[y.Year]})
		ranges = append(ranges, edtf.Range{First: y.Year, Last: y.Year})
		if y.Chance >= .001 {
			v.Table = append(v.Table, yearRow{number(y.Year), charts.Percent(y.Chance)})
		}
	}
	axis := charts.AxisOver(p.ref.Horizon(), ranges...)
	v.Bars = axis.Bars(list, "Odds by year: "+v.Verdict+"; "+v.Sub)
}

func yearSet(list []dating.ModelYears) map[int]bool {
	set := map[int]bool{}
	for _, m := range list {
		for _, y := range m.Years {
			set[y] = true
		}
	}
	return set
}

func (p *page) featureTitle(id string) string {
	if f, ok := p.ref.Features.Get(id); ok {
		return strings.ToLower(f.Title()[:1]) + f.Title()[1:]
	}
	return id
}

// modelYearsWords puts years into words: "1964–1966", with the models' names
// where they are several.
func (p *page) modelYearsWords(list []dating.ModelYears) string {
	if len(list) == 0 {
		return "no year"
	}
	var parts []string
	for _, m := range list {
		words := yearListWords(m.Years)
		if len(list) > 1 {
			name := m.Model
			if model, ok := p.ref.Models.Get(m.Model); ok {
				name = model.Title()
			}
			words = name + " " + words
		}
		parts = append(parts, words)
	}
	if len(parts) > 4 {
		return listWords(append(parts[:4:4], count(len(parts)-4, "further model", "further models")))
	}
	return listWords(parts)
}

// headline is the same in few words: of more than two models only the years
// they span.
func (p *page) headline(list []dating.ModelYears) string {
	if len(list) <= 2 {
		return p.modelYearsWords(list)
	}
	return p.shortYears(list) + ", one of " + number(len(list)) + " models"
}

// yearListWords joins years into stretches: "1964–1966, 1968".
func yearListWords(years []int) string {
	var parts []string
	for i := 0; i < len(years); {
		j := i
		for j+1 < len(years) && years[j+1] == years[j]+1 {
			j++
		}
		parts = append(parts, charts.YearWords(edtf.Range{First: years[i], Last: years[j]}))
		i = j + 1
	}
	return listWords(parts)
}

// dateState is the form's state for an example, as its address holds it.
func dateState(e *schema.Example) string {
	var parts []string
	if e.Model.Value != "" {
		parts = append(parts, "model="+e.Model.Value)
	}
	for _, o := range e.Observed {
		var values []string
		for _, value := range o.Value {
			values = append(values, stateEscape(value.Value))
		}
		part := o.Feature.Value + "=" + strings.Join(values, ",")
		if s := o.Sureness(); s != schema.Sure {
			part += "~" + string(s)
		}
		parts = append(parts, part)
	}
	return strings.Join(parts, "&")
}

// stateEscapes mends what a query's escaping does otherwise than an address's.
var stateEscapes = strings.NewReplacer("+", "%20", "~", "%7E")

// stateEscape writes a value so that the form's script reads it back.
func stateEscape(s string) string {
	return stateEscapes.Replace(url.QueryEscape(s))
}

// exampleLine is one bow in a list.
type exampleLine struct {
	anchor
	ID, Model, ModelID, Dated, Documented, Picture string
	ModelHref                                      string
	Odd                                            bool
}

func (p *page) exampleLines(list []*schema.Example) bowList {
	var lines bowList
	for _, e := range list {
		line := exampleLine{anchor: anchor{p.to(e.Address()), e.Title()}, ID: e.ID}
		if m, ok := p.ref.Models.Get(e.Model.Value); ok {
			line.Model, line.ModelID, line.ModelHref = m.Title(), m.ID, p.to(m.Address())
		}
		if e.Documented != nil {
			line.Documented = spanWords(e.Documented.Span)
		}
		if a := p.dated.of(e); a != nil && !a.Impossible && len(a.Observed) > 0 {
			line.Dated = p.shortYears(a.Likely95)
			line.Odd = len(a.Strict.Years) == 0
		}
		for _, shown := range e.Pictures {
			line.Picture = cmp.Or(line.Picture, p.picture(shown.File.Value))
		}
		lines = append(lines, line)
	}
	return lines
}

// shortYears spans the years of a set, whatever the models.
func (p *page) shortYears(list []dating.ModelYears) string {
	first, last := 0, 0
	for y := range yearSet(list) {
		if first == 0 || y < first {
			first = y
		}
		last = max(last, y)
	}
	if last == 0 {
		return ""
	}
	return charts.YearWords(edtf.Range{First: first, Last: last})
}
