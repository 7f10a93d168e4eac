package pages

import (
	"bytes"
	"fmt"
	"html/template"
	"io"
	"slices"
	"strings"
	"sync"

	"yearmark/builder/site"
	"yearmark/dating"
	"yearmark/schema"
)

// Site is the published form of one reference. It does not change and is safe
// for concurrent use.
type Site struct {
	facts   Facts
	ref     *schema.Reference
	frames  *frames
	cited   func() *citings
	dated   *datings
	seen    map[string][]*schema.Example // by model
	users   func() map[string][]userOf   // by feature
	asked   func() []question
	tried   func() *dating.Calibration
	images  map[string]image // the pictures that the site shows, by path below pictures
	routes  map[string]func() ([]byte, error)
	made    map[string]func() (madeFiles, error) // by folder below data
	paths   func() []string
	counted func() map[string]map[string]int // on how many bows each value was seen
	data    []DataFile                       // for those who reuse the data
}

// New prepares the site. The error is for facts that no site can be made from.
func New(f Facts) (*Site, error) {
	if f.Ref == nil || f.Timeline == nil || f.Weighing == nil || f.Engine == nil {
		return nil, fmt.Errorf("pages need a reference, its timeline, its weighing and its engine")
	}
	s := &Site{facts: f, ref: f.Ref, routes: map[string]func() ([]byte, error){}, frames: &frames{known: map[frameKey]template.HTML{}}}
	s.cited = sync.OnceValue(func() *citings { return newCitings(f.Ref) })
	if s.dated = (&datings{f.Apart}); f.Apart == nil {
		s.dated.apart = sync.OnceValue(func() *dating.Apart { return dating.NewApart(f.Engine(), f.Timeline, f.Weighing) })
	}
	s.seen = examplesByModel(f.Ref)
	s.counted = sync.OnceValue(func() map[string]map[string]int { return seenCounts(f.Ref) })
	s.users = sync.OnceValue(s.usersByFeature)
	s.asked = sync.OnceValue(s.workOutQuestions)
	s.tried = sync.OnceValue(s.calibration)
	s.addAssets()
	s.addRecords()
	s.addSinglePages()
	s.addMade()
	s.addData()
	s.paths = sync.OnceValue(s.listPaths)
	return s, nil
}

// Paths gives the path of every file of the site, sorted. The caller must not
// change the slice.
func (s *Site) Paths() []string { return s.paths() }

// Render gives the bytes of one file of the site. The error wraps
// fs.ErrNotExist where the site has no such file.
func (s *Site) Render(path string) ([]byte, error) {
	if render, ok := s.routes[path]; ok {
		return render()
	}
	return s.renderMade(path)
}

// Large gives a way to write a file piece by piece, for those that grow with
// the reference; ok is false for all others.
func (s *Site) Large(path string) (write func(io.Writer) error, ok bool) {
	for _, file := range s.data {
		if file.Name == path {
			return file.Write, true
		}
	}
	return nil, false
}

func (s *Site) add(path string, render func() ([]byte, error)) { s.routes[path] = render }

// addPage adds a page whose view is made when it is asked for.
func addPage[V any](s *Site, path string, set templateSet, view func(*page) V) {
	s.add(path, func() ([]byte, error) {
		return set.render(view(s.page(path)))
	})
}

func (s *Site) addRecords() {
	for _, m := range s.ref.Makers.All() {
		addPage(s, m.Address(), makerPage, func(p *page) makerView { return p.maker(m) })
	}
	for _, m := range s.ref.Models.All() {
		addPage(s, m.Address(), modelPage, func(p *page) modelView { return p.model(m) })
	}
	users := s.countUsers()
	for _, f := range s.ref.Features.All() {
		s.addFeature(f, users[f.ID])
	}
	for _, r := range s.ref.Sources.All() {
		addPage(s, r.Address(), sourcePage, func(p *page) sourceView { return p.source(r) })
	}
	for _, e := range s.ref.Examples.All() {
		addPage(s, e.Address(), examplePage, func(p *page) exampleView { return p.example(e) })
	}
	for _, e := range s.ref.Pages.All() {
		addPage(s, e.Address(), essayPage, func(p *page) essayView { return p.essay(e) })
	}
}

func (s *Site) addSinglePages() {
	addPage(s, "index.html", homePage, (*page).home)
	addPage(s, "date.html", datePage, (*page).date)
	addPage(s, "search.html", searchPage, (*page).search)
	addPage(s, "open-questions.html", openPage, (*page).open)
	addPage(s, "odds.html", oddsPage, (*page).odds)
	addPage(s, "checks.html", checksPage, (*page).checks)
	addPage(s, "data.html", dataPage, (*page).data)
	addPage(s, "editions.html", editionsPage, (*page).editions)
	addPage(s, censusPath, countsPage, (*page).census)
	s.addIndexes()
}

// addData adds the files for those who reuse the data, which may list all pages.
func (s *Site) addData() {
	if s.facts.Data == nil {
		return
	}
	var pages []string
	for path := range s.routes {
		if strings.HasSuffix(path, ".html") {
			pages = append(pages, path)
		}
	}
	slices.Sort(pages)
	s.data = s.facts.Data(pages)
	for _, file := range s.data {
		s.add(file.Name, func() ([]byte, error) {
			var b bytes.Buffer
			err := file.Write(&b)
			return b.Bytes(), err
		})
	}
}

func (s *Site) addAssets() {
	style := site.Style()
	s.add(style.Path, func() ([]byte, error) { return style.Data, nil })
	for _, asset := range site.Scripts() {
		s.add(asset.Path, func() ([]byte, error) { return asset.Data, nil })
	}
	s.add(iconPath, func() ([]byte, error) { return []byte(icon), nil })
	s.addPictures()
}

// iconPath is where the site's icon is kept.
const iconPath = "assets/icon.svg"

// icon is the edge of a limb: glass, maple, padauk, maple, glass.
const icon = `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 32 32"><g transform="rotate(-30 16 16)">` +
	`<rect x="2" y="4" width="28" height="7" fill="#173f36"/><rect x="2" y="11" width="28" height="3" fill="#e7cf9c"/>` +
	`<rect x="2" y="14" width="28" height="4" fill="#a3301a"/><rect x="2" y="18" width="28" height="3" fill="#e7cf9c"/>` +
	`<rect x="2" y="21" width="28" height="7" fill="#173f36"/></g></svg>`

// script gives the address of a module below the site's root, or an empty text
// where there is none.
func script(name string) string { return site.Scripts()[name].Path }

// page is one page being written: the site seen from its path.
type page struct {
	*Site
	path string
	root string // the way up to the site's root: "" or "../"
}

func (s *Site) page(path string) *page {
	return &page{Site: s, path: path, root: strings.Repeat("../", strings.Count(path, "/"))}
}

// to gives the way from this page to an address below the site's root.
func (p *page) to(address string) string { return p.root + address }
