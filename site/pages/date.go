package pages

import (
	"encoding/json"
	"path"
	"slices"
	"strings"

	"yearmark/dating"
	"yearmark/schema"
)

// dateView is the dating form, and the printed key for those without it.
type dateView struct {
	Base   base
	Tables string        // the way to the folder of the engine's tables, or empty
	Former string        // the names that models and features had before, as JSON for the form's script; empty where none had
	Makers []makerChoice // those with models
	Key    []keyView
	Rules  rulesView
	// ElsewhereKey says that there are too many models for one page, so that each has its key on its own.
	ElsewhereKey bool
}

// makerChoice is a maker in the list of models to choose from; the form's
// script enters the models, which its tables name.
type makerChoice struct {
	ID, Maker string
	// Marks is how the maker's stamped weights read, as JSON for the form's
	// script, and MarksHref where that is told; both empty where nobody says.
	Marks, MarksHref string
	// Also holds the other names of its models, as JSON by identifier; empty where there are none.
	Also string
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
	Values  []namedYears
}

// mostKeys is how many models the printed key of the form's own page holds.
const mostKeys = 40

func (p *page) date() dateView {
	v := dateView{Rules: p.rules(), Base: p.base("Date a bow", "Answer what you can see, and the register says which year and why.", "date.html")}
	v.Tables = p.datingTables()
	v.Former = p.formerNames(schema.KindModel, schema.KindFeature)
	v.Base.Class = "one-sheet"
	v.Base.Scripts, v.Base.Soon = scripts("date.js"), p.datingStart()
	for _, m := range p.ref.Makers.All() {
		models := p.built()[m.ID]
		if len(models) > 0 {
			v.Makers = append(v.Makers, p.choiceOf(m))
		}
		if left := mostKeys - len(v.Key); left > 0 {
			models = p.byMade(models)
			for _, model := range models[:min(left, len(models))] {
				v.Key = append(v.Key, p.key(model))
			}
		}
	}
	v.ElsewhereKey = p.ref.Models.Len() > mostKeys
	return v
}

// formerNames gives the names that records of some kinds have now by those that
// they had, as JSON by kind.
func (p *page) formerNames(kinds ...schema.Kind) string {
	now := map[schema.Kind]map[string]string{}
	for at, r := range p.Site.moved {
		head := r.Header()
		if !slices.Contains(kinds, head.Kind) {
			continue
		}
		if now[head.Kind] == nil {
			now[head.Kind] = map[string]string{}
		}
		now[head.Kind][strings.TrimSuffix(path.Base(at), ".html")] = head.ID
	}
	text, err := json.Marshal(now)
	if err != nil || len(now) == 0 {
		return ""
	}
	return string(text)
}

func (p *page) choiceOf(m *schema.Maker) makerChoice {
	c := makerChoice{ID: m.ID, Maker: m.Title()}
	also := map[string]string{}
	for _, model := range p.built()[m.ID] {
		if len(model.Also) > 0 {
			also[model.ID] = orWords(schema.OtherNames(model.Also))
		}
	}
	if text, err := json.Marshal(also); err == nil && len(also) > 0 {
		c.Also = string(text)
	}
	if len(m.WeightMarks) == 0 {
		return c
	}
	text, err := json.Marshal(dating.Conventions(p.ref, m))
	if err != nil {
		return c
	}
	c.Marks, c.MarksHref = string(text), m.Address()+"#"+marksSection
	return c
}

// scripts gives the addresses of scripts, those that there are.
func scripts(names ...string) []string {
	var list []string
	for _, name := range names {
		if path := script(name); path != "" {
			list = append(list, path)
		}
	}
	return list
}

// key lists a model's features, each with its values and their years.
func (p *page) key(m *schema.Model) keyView {
	v := keyView{Model: anchor{p.to(m.Address()), m.Title()}, Made: p.madeLink(m)}
	for _, claims := range [][]*schema.Claim{p.featuresOn(m), p.specsOn(m)} {
		for _, g := range byFeature(claims) {
			row := keyRow{Feature: p.featureAnchor(g.feature)}
			if f, ok := p.ref.Features.Get(g.feature); ok {
				row.Ask = f.Ask.Value
			}
			for _, c := range p.inOrder(g.claims) {
				row.Values = append(row.Values, namedYears{p.what(c), yearsWords(p.facts.Timeline.YearsOn(c, m)), p.to(c.Address())})
			}
			for _, gap := range p.gaps(m, g) {
				row.Values = append(row.Values, namedYears{"nobody says", gap.String(), p.to(m.Address() + "#On-" + g.feature)})
			}
			v.Rows = append(v.Rows, row)
		}
	}
	return v
}
