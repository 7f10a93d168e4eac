package pages

import (
	"html/template"
	"sync"

	"yearmark/site/assets"
	"yearmark/site/markup"
)

// kind is a kind of page: where its view keeps what every page has, and what
// writes its matter.
type kind[V any] struct {
	base   func(*V) *base
	matter func(*markup.Writer, *V) error
}

// write writes a page around its matter.
func (k kind[V]) write(w *markup.Writer, view *V) error {
	return k.base(view).write(w, func(w *markup.Writer) error { return k.matter(w, view) })
}

// coded is a kind whose matter a method writes, for pages of which a reference
// has thousands.
func coded[V any](base func(*V) *base, write func(*V, *markup.Writer)) kind[V] {
	return kind[V]{base, func(w *markup.Writer, view *V) error { write(view, w); return nil }}
}

// templated is a kind whose matter is a template.
func templated[V any](set templateSet, base func(*V) *base) kind[V] {
	return kind[V]{base, func(w *markup.Writer, view *V) error { return w.Template(set.parse(), view) }}
}

// templateSet is the template of one kind of page.
type templateSet struct {
	name  string
	parse func() *template.Template // the page's matter
}

func set(name string) templateSet {
	return templateSet{name, sync.OnceValue(func() *template.Template {
		text, err := assets.Template(name)
		if err != nil {
			panic("the template " + name + " is not embedded: " + err.Error())
		}
		return template.Must(template.New("").Option("missingkey=error").Parse(text)).Lookup("main")
	})}
}

// The templates.
var (
	homeSet     = set("home.html")
	essaySet    = set("essay.html")
	indexSet    = set("index.html")
	dateSet     = set("date.html")
	searchSet   = set("search.html")
	openSet     = set("open.html")
	oddsSet     = set("odds.html")
	checksSet   = set("checks.html")
	dataSet     = set("data.html")
	editionsSet = set("editions.html")
	censusSet   = set("census.html")
)

// The kinds of page.
var (
	homePage     = templated(homeSet, func(v *homeView) *base { return &v.Base })
	makerPage    = coded(func(v *makerView) *base { return &v.Base }, (*makerView).write)
	modelPage    = coded(func(v *modelView) *base { return &v.Base }, (*modelView).write)
	featurePage  = coded(func(v *featureView) *base { return &v.Base }, (*featureView).write)
	sourcePage   = coded(func(v *sourceView) *base { return &v.Base }, (*sourceView).write)
	examplePage  = coded(func(v *exampleView) *base { return &v.Base }, (*exampleView).write)
	essayPage    = templated(essaySet, func(v *essayView) *base { return &v.Base })
	indexPage    = templated(indexSet, func(v *indexView) *base { return &v.Base })
	datePage     = templated(dateSet, func(v *dateView) *base { return &v.Base })
	searchPage   = templated(searchSet, func(v *searchView) *base { return &v.Base })
	openPage     = templated(openSet, func(v *openView) *base { return &v.Base })
	oddsPage     = templated(oddsSet, func(v *oddsView) *base { return &v.Base })
	checksPage   = templated(checksSet, func(v *checksView) *base { return &v.Base })
	dataPage     = templated(dataSet, func(v *dataView) *base { return &v.Base })
	editionsPage = templated(editionsSet, func(v *editionsView) *base { return &v.Base })
	countsPage   = templated(censusSet, func(v *censusView) *base { return &v.Base })
)
