package pages

import (
	"cmp"
	"maps"
	"slices"
	"strconv"

	"yearmark/schema"
	"yearmark/schema/edtf"
	"yearmark/site/charts"
)

// censusView counts the bows on record, by model, by year and by what was seen.
type censusView struct {
	Base          base
	Bows, Undated int
	Unreviewed    int // sent in, not looked over, and not counted
	Models        []censusLine
	Bars          barsView
	Years         []censusLine
	Features      []censusGroup
}

// censusLine is a number of bows. Papers is how many of them have a year on paper.
type censusLine struct {
	Of            anchor
	Count, Papers int
}

type censusGroup struct {
	Of     anchor
	Values []censusLine
}

// censusPath is the page of the census.
const censusPath = "census.html"

// seenCounts is on how many bows each value of a feature was seen, by feature,
// then value. Bows that nobody looked over do not count, nor does one on which
// it may be this value or another, nor an owner's work.
func seenCounts(ref *schema.Reference) map[string]map[string]int {
	counts := map[string]map[string]int{}
	for _, e := range ref.Examples.All() {
		if e.Unreviewed() {
			continue
		}
		for _, o := range e.Observed {
			if len(o.Value) != 1 || o.OwnersWork() {
				continue
			}
			of := counts[o.Feature.Value]
			if of == nil {
				of = map[string]int{}
				counts[o.Feature.Value] = of
			}
			of[o.Value[0].Value]++
		}
	}
	return counts
}

func (p *page) census() censusView {
	v := censusView{Base: p.base("Census", "How many bows are on record: by model, by year and by what was seen on them.", "examples/index.html")}
	v.Base.Trail = []anchor{{p.to("examples/index.html"), "Examples"}}
	byModel, byYear := map[string]*censusLine{}, map[int]int{}
	for _, e := range p.ref.Examples.All() {
		if e.Unreviewed() {
			v.Unreviewed++
			continue
		}
		v.Bows++
		p.countModel(byModel, e)
		if a := p.dated.brief(e); a != nil && a.Best != nil {
			byYear[a.Best.Year]++
		} else {
			v.Undated++
		}
	}
	for _, id := range slices.Sorted(maps.Keys(byModel)) {
		v.Models = append(v.Models, *byModel[id])
	}
	slices.SortStableFunc(v.Models, func(a, b censusLine) int {
		return cmp.Or(cmp.Compare(b.Count, a.Count), cmp.Compare(a.Of.Text, b.Of.Text))
	})
	p.censusYears(byYear, &v)
	p.censusFeatures(&v)
	return v
}

func (p *page) countModel(by map[string]*censusLine, e *schema.Example) {
	line := by[e.Model.Value]
	if line == nil {
		line = &censusLine{Of: anchor{Text: "Model not known"}}
		if m, ok := p.ref.Models.Get(e.Model.Value); ok {
			line.Of = anchor{p.to(m.Address()) + "#Examples", m.Title()}
		}
		by[e.Model.Value] = line
	}
	line.Count++
	if e.Documented != nil {
		line.Papers++
	}
}

// censusYears draws how many bows date best to each year.
func (p *page) censusYears(by map[int]int, v *censusView) {
	var list []charts.Chance
	var ranges []edtf.Range
	for _, year := range slices.Sorted(maps.Keys(by)) {
		list = append(list, charts.Chance{Year: year, Chance: float64(by[year]) / float64(v.Bows), Held: true, Label: strconv.Itoa(by[year])})
		ranges = append(ranges, edtf.Range{First: year, Last: year})
		v.Years = append(v.Years, censusLine{Of: anchor{Text: number(year)}, Count: by[year]})
	}
	if len(list) > 0 {
		v.Bars = barsView{charts.AxisOver(p.ref.Horizon(), ranges...), list, "Bows by the year that their features speak for most; the same as a table follows"}
	}
}

// censusFeatures counts the values of features that have a list of them.
func (p *page) censusFeatures(v *censusView) {
	for _, f := range p.ref.Features.All() {
		seen := p.counted()[f.ID]
		if kind := schema.FeatureKind(f.Kind.Value); len(seen) == 0 || kind != schema.Choice && kind != schema.Presence {
			continue
		}
		group := censusGroup{Of: anchor{p.to(f.Address()), f.Title()}}
		for _, id := range slices.Sorted(maps.Keys(seen)) {
			of := anchor{Text: capital(f.ValueName(id))}
			if _, declared := f.Value(id); declared {
				of.Href = group.Of.Href + "#" + valueAnchor(id)
			}
			group.Values = append(group.Values, censusLine{Of: of, Count: seen[id]})
		}
		slices.SortStableFunc(group.Values, func(a, b censusLine) int { return cmp.Compare(b.Count, a.Count) })
		v.Features = append(v.Features, group)
	}
}
