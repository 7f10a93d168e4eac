package pages

import (
	"cmp"
	"slices"

	"yearmark/schema"
	"yearmark/site/assets"
)

// base is what every page has.
type base struct {
	Root, Path         string // Path is empty on the first page
	Title, Description string
	Canonical          string // the address that stands for this page, if it is another
	SiteName, Language string
	Edition            Edition
	Style, Icon, Class string
	Scripts            []string
	Soon               []string // the ways to data that the page's script loads first
	Way                string   // the main way that the page belongs to, or empty
	Editor, Licence    string
	Reading            []anchor // addresses here and below are below the root
	Cautions           anchor
	Feed               string
	Trail              []anchor
	Quotes             *quotes
}

// way is one of the site's main ways.
type way struct {
	Href, Text string
	Lead       bool
}

var ways = []way{
	{"date.html", "Date a bow", true},
	{"search.html", "Search", false},
	{"models/index.html", "Models", false},
	{"makers/index.html", "Makers", false},
	{"features/index.html", "Features", false},
	{"examples/index.html", "Examples", false},
	{"sources/index.html", "Sources", false},
	{"open-questions.html", "Open questions", false},
}

var behind = []anchor{
	{offlinePath, "Keep it for where there is no reception"},
	{myBowsPath, "My bows"},
	{"odds.html", "How the odds are made"},
	{"checks.html", "What is checked"},
	{"data.html", "Data"},
	{guidePath, "How records are written"},
	{"editions.html", "Editions"},
}

// feedPath is where the feed of changes stands, if there is one.
const feedPath = "feed.atom"

// cautionsID is the page of a reference that holds its cautions.
const cautionsID = "cautions"

// base fills in what this page shares with all others. way is the main way
// that the page belongs to, or empty.
func (p *page) base(title, description, way string) base {
	settings := p.ref.Settings
	b := base{
		Root: p.root, Path: p.path, Title: title, Description: description,
		SiteName: settings.Name.Value, Language: cmp.Or(settings.Language.Value, "en"),
		Edition: p.facts.Edition, Style: assets.Style().Path, Icon: iconPath,
		Quotes: p.quotes,
		Way:    way, Editor: settings.Editor.Value, Licence: settings.Licence.Value, Reading: p.reading(),
	}
	if p.facts.Feed {
		b.Feed = feedPath
	}
	if page, ok := p.ref.Pages.Get(cautionsID); ok {
		b.Cautions = anchor{page.Address(), page.Title()}
	}
	return b
}

// mostReading is how many documents the foot of every page lists.
const mostReading = 12

// documents gives the reference's pages by rank, then title.
func (s *Site) documents() []*schema.Page {
	list := slices.Clone(s.ref.Pages.All())
	slices.SortStableFunc(list, func(a, b *schema.Page) int {
		return cmp.Or(cmp.Compare(rank(a), rank(b)), cmp.Compare(a.Title(), b.Title()))
	})
	return list
}

// rank puts pages without one last.
func rank(p *schema.Page) int {
	if p.Rank.Pos.IsZero() {
		return 1 << 30
	}
	return p.Rank.Value
}

// listReading links the first documents.
func (s *Site) listReading() []anchor {
	var list []anchor
	for _, e := range s.documents() {
		list = append(list, anchor{e.Address(), e.Title()})
		if len(list) == mostReading {
			break
		}
	}
	return list
}
