package pages

import (
	"context"
	"html/template"
	"io"
	"sync"

	"github.com/a-h/templ"

	"yearmark/site/assets"
	"yearmark/site/markup"
)

// written is a component that code writes.
func written(write func(*markup.Writer) error) templ.Component {
	return templ.ComponentFunc(func(_ context.Context, to io.Writer) error {
		w := writers.Get().(*markup.Writer)
		defer writers.Put(w)
		w.Back(0)
		if err := write(w); err != nil {
			return err
		}
		_, err := to.Write(w.Bytes())
		return err
	})
}

// templated is a kind whose content is a template.
func templated[V any](set templateSet, base func(*V) *base) func(V) templ.Component {
	return func(v V) templ.Component {
		return framed(*base(&v), written(func(w *markup.Writer) error { return w.Template(set.parse(), v) }))
	}
}

// framed is a page whose content is no component yet.
func framed(b base, content templ.Component) templ.Component {
	return templ.ComponentFunc(func(ctx context.Context, w io.Writer) error {
		return frame(b).Render(templ.WithChildren(ctx, content), w)
	})
}

// writers are used again from page to page.
var writers = sync.Pool{New: func() any { return markup.New(64 << 10) }}

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
