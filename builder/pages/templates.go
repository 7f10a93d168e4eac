package pages

import (
	"bytes"
	"html/template"
	"sync"

	"yearmark/builder/site"
)

// templateSet is the templates of one kind of page: the frame, the parts that
// kinds share, and the page's own, parsed apart from all other kinds.
type templateSet struct {
	name  string
	parse func() *template.Template
}

func set(name string) templateSet {
	return templateSet{name, sync.OnceValue(func() *template.Template {
		t := template.New("base.html").Option("missingkey=error")
		for _, file := range []string{"base.html", "parts.html", name} {
			text, err := site.Template(file)
			if err != nil {
				panic("the template " + file + " is not embedded: " + err.Error())
			}
			template.Must(t.Parse(text))
		}
		return t
	})}
}

// The kinds of page.
var (
	homePage     = set("home.html")
	makerPage    = set("maker.html")
	modelPage    = set("model.html")
	featurePage  = set("feature.html")
	sourcePage   = set("source.html")
	examplePage  = set("example.html")
	essayPage    = set("essay.html")
	indexPage    = set("index.html")
	datePage     = set("date.html")
	searchPage   = set("search.html")
	openPage     = set("open.html")
	oddsPage     = set("odds.html")
	checksPage   = set("checks.html")
	dataPage     = set("data.html")
	editionsPage = set("editions.html")
	countsPage   = set("census.html")
)

// write appends the page to what is written.
func (s templateSet) write(to *bytes.Buffer, view any) error { return s.parse().Execute(to, view) }
