package pages

import (
	"slices"
	"strings"

	"yearmark/dating"
	"yearmark/schema/edtf"
	"yearmark/schema/english"
	"yearmark/site/charts"
)

// datingView is the engine's answer about one bow.
type datingView struct {
	Impossible   bool
	Verdict, Sub string
	Strict       string
	OddOnes      []oddView
	OddOne       string // the likeliest to be the odd one out
	Conflicts    []string
	Bars         barsView
	Table        []yearRow
	Models       []modelChance
}

type oddView struct{ Feature, Then string }

type yearRow struct{ Year, Chance string }

type modelChance struct {
	Model  anchor
	Chance string
}

// holdsAny says whether one of the listed years is possible in the span.
func holdsAny(list []dating.ModelYears, span edtf.Years) bool {
	return slices.ContainsFunc(list, func(m dating.ModelYears) bool { return slices.ContainsFunc(m.Years, span.Possible) })
}

// oddOneOut is the feature that speaks most against the likeliest year of
// those without which the others could stand together; empty where all agree.
func oddOneOut(a *dating.Account) string {
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

func (p *page) datingOf(a *dating.Account) *datingView {
	if a == nil || a.Observed == 0 {
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
		v.Conflicts = append(v.Conflicts, english.And(names))
	}
	if odd := oddOneOut(a); odd != "" {
		v.OddOne = p.featureTitle(odd)
	}
	p.datingChart(a, v)
	for _, m := range a.Models {
		if len(v.Models) < 6 && m.Chance >= .005 {
			v.Models = append(v.Models, modelChance{p.bow(m.Model, m.Maker), charts.Percent(m.Chance)})
		}
	}
	return v
}

// bow names a model, or what is not on record, and leads to its page or its maker's.
func (p *page) bow(model, maker string) anchor {
	a := anchor{Text: dating.BowName(p.ref, model, maker)}
	if m, ok := p.ref.Models.Get(model); ok {
		a.Href = p.to(m.Address())
	} else if m, ok := p.ref.Makers.Get(maker); ok {
		a.Href = p.to(m.Address())
	}
	return a
}

// datingChart draws the odds year by year.
func (p *page) datingChart(a *dating.Account, v *datingView) {
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
	v.Bars = barsView{axis, list, "Odds by year: " + v.Verdict + "; " + v.Sub}
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
		words := english.And(edtf.Stretches(m.Years))
		if len(list) > 1 {
			words = dating.BowName(p.ref, m.Model, m.Maker) + " " + words
		}
		parts = append(parts, words)
	}
	if len(parts) > 4 {
		return english.And(append(parts[:4:4], english.Count(len(parts)-4, "further model", "further models")))
	}
	return english.And(parts)
}

// headline is the same in few words: of more than two models only the years
// they span.
func (p *page) headline(list []dating.ModelYears) string {
	if recorded := dating.OnRecord(list); len(recorded) > 0 && len(recorded) < len(list) {
		return p.headline(recorded) + ", or a model not on record"
	}
	if len(list) <= 2 {
		return p.modelYearsWords(list)
	}
	return p.shortYears(list) + ", one of " + number(len(list)) + " models"
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
	return edtf.Range{First: first, Last: last}.String()
}
