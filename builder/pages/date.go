package pages

import (
	"encoding/json"
	"html/template"

	"yearmark/builder/charts"
	"yearmark/builder/markup"
	"yearmark/builder/site"
	"yearmark/schema"
)

// dateView is the dating form, and the printed key for those without it.
type dateView struct {
	Base   base
	Tables string // the way to the folder of the engine's tables, or empty
	Models modelChoices
	Key    []keyView
	Rules  rulesView
	// ElsewhereKey says that there are too many models for one page, so that each has its key on its own.
	ElsewhereKey bool
}

// modelChoice is one maker's models in the list to choose from.
type modelChoice struct {
	Maker  string
	Models []anchor // Href is the model's identifier
	// Marks is how the maker's stamped weights read, as JSON for the form's
	// script, and MarksHref where that is told; both empty where nobody says.
	Marks, MarksHref string
}

// modelChoices is the list to choose a model from.
type modelChoices []modelChoice

// HTML writes the choices, maker by maker.
func (l modelChoices) HTML() template.HTML {
	size := 0
	for i := range l {
		size += 120 + 60*len(l[i].Models)
	}
	w := markup.New(size)
	for i := range l {
		w.Tag(`<optgroup label="`).Text(l[i].Maker).Tag(`"`)
		if l[i].Marks != "" {
			w.Tag(` data-marks="`).Text(l[i].Marks).Tag(`" data-told="`).Text(l[i].MarksHref).Tag(`"`)
		}
		w.Tag(`>`)
		for _, m := range l[i].Models {
			w.Tag(`<option value="`).Text(m.Href).Tag(`">`).Text(m.Text).Tag(`</option>`)
		}
		w.Tag(`</optgroup>`)
	}
	return w.Done()
}

// keyView is one model's key: what each feature was, and when.
type keyView struct {
	Model anchor
	Made  *yearsLink
	Rows  []keyRow
}

type keyRow struct {
	Feature anchor
	Ask     string
	Values  namedList
}

// mostKeys is how many models the printed key of the form's own page holds.
const mostKeys = 40

func (p *page) date() dateView {
	v := dateView{Rules: rules(), Base: p.base("Date a bow", "Answer what you can see, and the register says which year and why.", "date.html")}
	if manifest := p.datingManifest(); manifest != "" {
		v.Tables = p.to("data/dating/")
	}
	v.Base.Class = "one-sheet"
	v.Base.Scripts, v.Base.Preloads = scripts("date.js"), imports("date.js")
	for i, m := range p.modelsByMaker() {
		name := m.Maker.Value
		if maker, ok := p.ref.Makers.Get(name); ok {
			name = maker.Title()
		}
		if n := len(v.Models); n == 0 || v.Models[n-1].Maker != name {
			v.Models = append(v.Models, p.choiceOf(name, m.Maker.Value))
		}
		last := &v.Models[len(v.Models)-1]
		last.Models = append(last.Models, anchor{m.ID, m.Title()})
		if i < mostKeys {
			v.Key = append(v.Key, p.key(m))
		}
	}
	v.ElsewhereKey = p.ref.Models.Len() > mostKeys
	return v
}

func (p *page) choiceOf(name, maker string) modelChoice {
	c := modelChoice{Maker: name}
	m, ok := p.ref.Makers.Get(maker)
	if !ok || m.WeightMarks == nil {
		return c
	}
	by := conventionOf(m)
	text, err := json.Marshal(map[string]map[string]float64{"before": by.Before, "after": by.After})
	if err != nil {
		return c
	}
	c.Marks, c.MarksHref = string(text), m.Address()+"#"+marksSection
	return c
}

// scripts gives the addresses of modules, those that there are.
func scripts(names ...string) []string {
	var list []string
	for _, name := range names {
		if path := script(name); path != "" {
			list = append(list, path)
		}
	}
	return list
}

// imports gives the addresses of what a module imports, which a browser would
// else find out of one file after another.
func imports(name string) []string {
	var list []string
	for _, asset := range site.Imports(name) {
		list = append(list, asset.Path)
	}
	return list
}

// key lists a model's features, each with its values and their years.
func (p *page) key(m *schema.Model) keyView {
	v := keyView{Model: anchor{p.to(m.Address()), m.Title()}, Made: p.madeLink(m)}
	for _, claims := range [][]*schema.Claim{m.Features, m.Specs} {
		for _, g := range byFeature(claims) {
			row := keyRow{Feature: anchor{Text: g.feature}}
			if f, ok := p.ref.Features.Get(g.feature); ok {
				row.Feature, row.Ask = anchor{p.to(f.Address()), f.Title()}, f.Ask.Value
			}
			for _, c := range p.inOrder(g.claims) {
				row.Values = append(row.Values, namedYears{p.what(c), p.years(c), p.to(c.Address())})
			}
			for _, gap := range p.gaps(m, g) {
				row.Values = append(row.Values, namedYears{"nobody says", charts.YearWords(gap), p.to(m.Address() + "#On-" + g.feature)})
			}
			v.Rows = append(v.Rows, row)
		}
	}
	return v
}
