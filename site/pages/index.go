package pages

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"sync"

	"yearmark/schema"
	"yearmark/schema/english"
)

// indexView lists the records of one kind, or one part of them.
type indexView struct {
	Base     base
	Name     string
	About    string
	Of       string // the count in words
	Chart    *chartView
	Groups   []indexGroup
	Parts    []partView
	Examples []exampleLine
	Models   []anchor // of the examples listed; Href is the identifier
	Census   string   // the way to the census, on the index of examples
}

// indexGroup is a heading and what stands under it.
type indexGroup struct {
	Name  anchor
	Cards []cardView
	Lines []lineView
}

// lineView is a line of a list: a name, dots, and years.
type lineView struct {
	anchor
	Years, YearsHref string
	Under            string
}

// entriesAPart is how many records one part of an index lists.
const entriesAPart = 400

// indexOf is one kind's index: how many entries it has, and how to list a
// stretch of them.
type indexOf struct {
	kind  schema.Kind
	name  string
	about string
	size  int
	fill  func(p *page, v *indexView, from, to int)
}

func (s *Site) addIndexes() {
	makers, features, examples := s.ref.Makers.All(), s.ref.Features.All(), s.ref.Examples.All()
	models, sources, documents := sync.OnceValue(s.modelsByMaker), sync.OnceValue(s.sourcesInOrder), sync.OnceValue(s.documents)
	for _, ix := range []indexOf{
		{schema.KindMaker, "Makers", "Who made bows, and when they traded.", len(makers), func(p *page, v *indexView, from, to int) { p.makersIndex(v, makers[from:to]) }},
		{schema.KindModel, "Models", "Every model on record, maker by maker, in the order in which they came out.", s.modelsOfMakers(), func(p *page, v *indexView, from, to int) { p.modelsIndex(v, models()[from:to]) }},
		{schema.KindFeature, "Features", "What to look at on a bow, where to look, and what each answer looks like.", len(features), func(p *page, v *indexView, from, to int) { p.featuresIndex(v, features[from:to]) }},
		{schema.KindSource, "Sources", "What every date in the register rests on.", s.sourcesOfKinds(), func(p *page, v *indexView, from, to int) { p.sourcesIndex(v, sources()[from:to]) }},
		{schema.KindExample, "Examples", "Surviving bows that someone examined, each dated from its features.", len(examples), func(p *page, v *indexView, from, to int) { p.examplesIndex(v, examples[from:to]) }},
		{schema.KindPage, "Reading", "Essays, advice and the rules of the register.", s.ref.Pages.Len(), func(p *page, v *indexView, from, to int) { p.documentsIndex(v, documents()[from:to]) }},
	} {
		s.addIndex(ix)
	}
}

func (s *Site) addIndex(ix indexOf) {
	parts := max(1, (ix.size+entriesAPart-1)/entriesAPart)
	for part := range parts {
		addPage(s, indexPart(ix.kind, part), indexPage, func(p *page) indexView {
			title := ix.name
			if part > 0 {
				title += ", part " + number(part+1)
			}
			v := indexView{
				Base: p.base(title, ix.about, indexPart(ix.kind, 0)), Name: ix.name, About: ix.about,
				Of:    english.Count(ix.size, string(ix.kind), string(ix.kind)+"s"),
				Parts: partsOf(part, parts, func(i int) string { return p.to(indexPart(ix.kind, i)) }),
			}
			ix.fill(p, &v, part*entriesAPart, min((part+1)*entriesAPart, ix.size))
			return v
		})
	}
}

// indexPart is the address of a part of a kind's index.
func indexPart(kind schema.Kind, part int) string {
	if part == 0 {
		return kind.Folder() + "/index.html"
	}
	return fmt.Sprintf("%s/index.%d.html", kind.Folder(), part+1)
}

// modelsOfMakers is how many models modelsByMaker gives: those whose maker is on record.
func (s *Site) modelsOfMakers() int {
	n := 0
	for _, m := range s.ref.Models.All() {
		if _, known := s.ref.Makers.Get(m.Maker.Value); known {
			n++
		}
	}
	return n
}

// sourcesOfKinds is how many sources sourcesInOrder gives: those of a kind that there is.
func (s *Site) sourcesOfKinds() int {
	n := 0
	for _, r := range s.ref.Sources.All() {
		if slices.Contains(schema.SourceKinds, schema.SourceKind(r.Kind.Value)) {
			n++
		}
	}
	return n
}

// modelsByMaker gives the models maker by maker, each maker's by first year.
func (s *Site) modelsByMaker() []*schema.Model {
	var list []*schema.Model
	for _, maker := range s.ref.Makers.All() {
		list = append(list, s.byMade(s.built()[maker.ID])...)
	}
	return list
}

// sourcesInOrder gives the sources kind by kind, each kind's by year.
func (s *Site) sourcesInOrder() []*schema.Source {
	groups := s.sourcesByKind()
	var list []*schema.Source
	for _, kind := range schema.SourceKinds {
		list = append(list, groups[kind]...)
	}
	return list
}

func (p *page) makersIndex(v *indexView, makers []*schema.Maker) {
	group := indexGroup{}
	for _, m := range makers {
		card := cardView{anchor: anchor{p.to(m.Address()), m.Title()}, Under: m.Place.Value}
		if m.Trading != nil {
			card.Made = &yearsLink{p.years(m.Trading), p.claimHref(m.Trading)}
		}
		card.Under = joinWords(card.Under, english.Count(len(p.built()[m.ID]), "model", "models"))
		group.Cards = append(group.Cards, card)
	}
	v.Groups = []indexGroup{group}
	v.Chart = p.tradeChart(makers)
}

func (p *page) modelsIndex(v *indexView, models []*schema.Model) {
	for i, m := range models {
		if i == 0 || models[i-1].Maker.Value != m.Maker.Value {
			group := indexGroup{Name: anchor{Text: m.Maker.Value}}
			if maker, ok := p.ref.Makers.Get(m.Maker.Value); ok {
				group.Name = anchor{p.to(maker.Address()), maker.Title()}
			}
			v.Groups = append(v.Groups, group)
		}
		last := &v.Groups[len(v.Groups)-1]
		last.Cards = append(last.Cards, p.modelCards([]*schema.Model{m})...)
	}
}

func (p *page) featuresIndex(v *indexView, features []*schema.Feature) {
	kinds := []struct {
		name string
		of   []schema.FeatureKind
	}{{"What can be seen", []schema.FeatureKind{schema.Choice, schema.Presence}}, {"What can be read", []schema.FeatureKind{schema.Wording}}, {"What can be measured", []schema.FeatureKind{schema.Figure}}}
	for _, k := range kinds {
		group := indexGroup{Name: anchor{Text: k.name}}
		for _, f := range features {
			for _, kind := range k.of {
				if schema.FeatureKind(f.Kind.Value) == kind {
					group.Cards = append(group.Cards, cardView{anchor: anchor{p.to(f.Address()), f.Title()}, Picture: p.featurePicture(f), Under: f.Ask.Value})
				}
			}
		}
		if len(group.Cards) > 0 {
			v.Groups = append(v.Groups, group)
		}
	}
}

// featurePicture is the feature's own picture, or that of its first value with one.
func (p *page) featurePicture(f *schema.Feature) string {
	picture := p.picture(f.Picture.Value)
	for _, v := range f.Values {
		picture = cmp.Or(picture, p.picture(v.Picture.Value))
	}
	return picture
}

func (p *page) sourcesIndex(v *indexView, sources []*schema.Source) {
	for i, r := range sources {
		if i == 0 || sources[i-1].Kind.Value != r.Kind.Value {
			v.Groups = append(v.Groups, indexGroup{Name: anchor{Text: kindPlurals[schema.SourceKind(r.Kind.Value)]}})
		}
		line := lineView{anchor: anchor{p.to(r.Address()), r.Title()}, Under: r.By.Value}
		if !r.Issued.IsZero() {
			line.Years, line.YearsHref = spanWords(r.Issued), p.to(r.Address())
		}
		if n := len(p.facts.Weighing.DependsOn(r.ID)); n > 0 {
			line.Under = joinWords(line.Under, english.Count(n, "claim rests on it", "claims rest on it"))
		}
		last := &v.Groups[len(v.Groups)-1]
		last.Lines = append(last.Lines, line)
	}
}

// examplesIndex lists bows; its script lets a visitor hold the list to one
// model, to bows with papers, or to those whose features are at odds.
func (p *page) examplesIndex(v *indexView, examples []*schema.Example) {
	v.Examples, v.Census = p.exampleLines(examples), p.to(censusPath)
	v.Base.Scripts = scripts("examples.js")
	known := map[string]bool{}
	for _, line := range v.Examples {
		if line.ModelID != "" && !known[line.ModelID] {
			known[line.ModelID] = true
			v.Models = append(v.Models, anchor{line.ModelID, line.Model})
		}
	}
	slices.SortFunc(v.Models, func(a, b anchor) int { return strings.Compare(a.Text, b.Text) })
}

func (p *page) documentsIndex(v *indexView, documents []*schema.Page) {
	group := indexGroup{}
	for _, e := range documents {
		group.Cards = append(group.Cards, cardView{anchor: anchor{p.to(e.Address()), e.Title()}, Under: e.About.Value})
	}
	v.Groups = []indexGroup{group}
}
