package pages

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"slices"
	"strings"
	"sync"
	"time"

	"github.com/a-h/templ"

	"yearmark/dating"
	"yearmark/schema"
	"yearmark/site/assets"
	"yearmark/site/guide"
)

// Site is the published form of one reference. It does not change and is safe
// for concurrent use. What a page needs is worked out when it is first asked for.
type Site struct {
	facts   Facts
	ref     *schema.Reference
	citings func() *citings
	dated   *datings
	seen    func() map[string][]*schema.Example // by model
	users   func() map[string][]userOf          // by feature
	using   func() map[string]int               // models with claims about each feature
	alike   func() map[string][]modelTie        // by either model
	built   func() map[string][]*schema.Model   // by maker
	asked   func() map[string]*askings          // open questions, by kind
	tried   func() *dating.Calibration
	cuts    map[*schema.SourcePlace]cut             // of the scans that may be shown
	lengths func() map[*schema.Source]time.Duration // of the recordings that may be heard, where they are known
	images  map[string]image                        // the pictures that the site shows, by path below pictures
	photos  map[string]photoFile                    // by path
	fixed   map[string]writing                      // files that are no record's pages
	made    map[string]*madeFolder                  // by folder below data
	batches func() [][]string
	reading func() []anchor                  // what the foot of every page lists
	counted func() map[string]map[string]int // on how many bows each value was seen
	data    func() []DataFile                // for those who reuse the data
	dataBy  func() map[string]func(io.Writer) error
	moved   map[string]schema.Record // by the path of a page that the record had under another name
}

// writing makes one file and hands on its bytes, which are good until use
// returns. The error may be that of use.
type writing func(use func(data []byte) error) error

// New prepares the site. The error is for facts that no site can be made from.
func New(f Facts) (*Site, error) {
	if f.Ref == nil || f.Timeline == nil || f.Weighing == nil || f.Engine == nil {
		return nil, fmt.Errorf("pages need a reference, its timeline, its weighing and its engine")
	}
	s := &Site{facts: f, ref: f.Ref, fixed: map[string]writing{}, moved: listMoved(f.Ref)}
	s.citings = sync.OnceValue(func() *citings { return newCitings(f.Ref) })
	if s.dated = (&datings{f.LeaveOneOut}); f.LeaveOneOut == nil {
		s.dated.leaveOneOut = sync.OnceValue(func() *dating.LeaveOneOut { return dating.NewLeaveOneOut(f.Engine(), f.Timeline, f.Weighing) })
	}
	s.seen = sync.OnceValue(func() map[string][]*schema.Example { return examplesByModel(f.Ref) })
	s.counted = sync.OnceValue(func() map[string]map[string]int { return seenCounts(f.Ref) })
	s.alike = sync.OnceValue(s.modelsAlike)
	s.built = sync.OnceValue(func() map[string][]*schema.Model { return builtBy(f.Ref) })
	s.users, s.using = sync.OnceValue(s.usersByFeature), sync.OnceValue(s.countUsers)
	s.asked = sync.OnceValue(s.questions)
	s.tried = sync.OnceValue(s.calibration)
	s.data, s.dataBy = sync.OnceValue(s.dataFiles), sync.OnceValue(s.dataByPath)
	s.lengths = sync.OnceValue(s.recordingLengths)
	s.batches = sync.OnceValue(s.listBatches)
	s.reading = sync.OnceValue(s.listReading)
	s.addAssets()
	s.addSinglePages()
	s.addMade()
	return s, nil
}

// Render gives the bytes of one file of the site. The error wraps
// fs.ErrNotExist where the site has no such file.
func (s *Site) Render(path string) ([]byte, error) {
	var data []byte
	err := s.Write([]string{path}, func(_ string, b []byte) error {
		data = bytes.Clone(b)
		return nil
	})
	return data, err
}

// Write makes files of the site, one or some of a batch, each in memory, so that
// only whole files are ever handed on, and hands on their bytes, which are good
// until use returns. The error is that of use, or as in Render.
func (s *Site) Write(paths []string, use func(path string, data []byte) error) error {
	if _, ok := s.photos[paths[0]]; ok {
		return s.writePhoto(paths, use)
	}
	for _, path := range paths {
		write, err := s.writing(path)
		if err != nil {
			return err
		}
		if err := write(func(data []byte) error { return use(path, data) }); err != nil {
			return err
		}
	}
	return nil
}

// writing finds what writes a file.
func (s *Site) writing(path string) (writing, error) {
	if path == workerPath { // of a site that is not published: it takes itself away
		return func(use func([]byte) error) error { return use(assets.Scripts()[retireScript].Data) }, nil
	}
	if write, ok := s.fixed[path]; ok {
		return write, nil
	}
	if write, ok := s.recordPage(path); ok {
		return write, nil
	}
	if r, ok := s.moved[path]; ok {
		return pageOf(s, path, movedPage, func(p *page) movedView { return p.moved(r) }), nil
	}
	if files, made := s.madeWith(path); made {
		m, err := files.get(context.Background())
		if err != nil {
			return nil, err
		}
		if data, ok := m.data[path]; ok {
			return func(use func([]byte) error) error { return use(data()) }, nil
		}
		return nil, noFile(path)
	}
	if write, ok := s.Large(path); ok {
		return func(use func([]byte) error) error {
			var whole bytes.Buffer
			if err := write(&whole); err != nil {
				return err
			}
			return use(whole.Bytes())
		}, nil
	}
	return nil, noFile(path)
}

// Large gives a way to write a file piece by piece, for those that grow with
// the reference; ok is false for all others.
func (s *Site) Large(path string) (write func(io.Writer) error, ok bool) {
	if strings.HasSuffix(path, ".html") {
		return nil, false
	}
	write, ok = s.dataBy()[path]
	return write, ok
}

// add adds a file whose bytes are given.
func (s *Site) add(path string, data func() ([]byte, error)) {
	s.fixed[path] = func(use func([]byte) error) error {
		b, err := data()
		if err != nil {
			return err
		}
		return use(b)
	}
}

// addPage adds a page whose view is made when it is asked for.
func addPage[V any](s *Site, path string, component func(V) templ.Component, view func(*page) V) {
	s.fixed[path] = pageOf(s, path, component, view)
}

// buffers are used again from page to page.
var buffers = sync.Pool{New: func() any { return new(bytes.Buffer) }}

// pageOf writes a page: the component of its kind, with its view.
func pageOf[V any](s *Site, path string, component func(V) templ.Component, view func(*page) V) writing {
	return func(use func([]byte) error) error {
		b := buffers.Get().(*bytes.Buffer)
		defer buffers.Put(b)
		b.Reset()
		if err := component(view(s.page(path))).Render(context.Background(), b); err != nil {
			return err
		}
		return use(b.Bytes())
	}
}

// recordPage finds the page of a record, or a further part of a feature's.
func (s *Site) recordPage(path string) (writing, bool) {
	folder, file, _ := strings.Cut(path, "/")
	id, isPage := strings.CutSuffix(file, ".html")
	if !isPage {
		return nil, false
	}
	if base, isRecord := strings.CutSuffix(file, recordEnding); isRecord {
		return s.longRecord(folder, base)
	}
	switch folder {
	case schema.KindMaker.Folder():
		return ofRecord(s, &s.ref.Makers, id, makerPage, (*page).maker)
	case schema.KindModel.Folder():
		return ofRecord(s, &s.ref.Models, id, modelPage, (*page).model)
	case schema.KindFeature.Folder():
		return s.featurePage(path, id)
	case schema.KindSource.Folder():
		return ofRecord(s, &s.ref.Sources, id, sourcePage, (*page).source)
	case schema.KindExample.Folder():
		return ofRecord(s, &s.ref.Examples, id, examplePage, (*page).example)
	case schema.KindPage.Folder():
		return ofRecord(s, &s.ref.Pages, id, documentPage, (*page).document)
	}
	return nil, false
}

// longRecord finds the page of a long record.
func (s *Site) longRecord(folder, id string) (writing, bool) {
	for _, kind := range schema.Kinds {
		if kind.Folder() != folder {
			continue
		}
		if r, ok := s.record(kind, id); ok && r.Header().Kind == kind && recordPath(r) != "" {
			return pageOf(s, recordPath(r), recordPage, func(p *page) recordPageView { return p.recordPageOf(r) }), true
		}
	}
	return nil, false
}

// ofRecord writes the page of the record of that name, if there is one.
func ofRecord[R schema.Record, V any](s *Site, list *schema.Collection[R], id string, component func(V) templ.Component, view func(*page, R) V) (writing, bool) {
	r, ok := list.Get(id)
	if !ok {
		return nil, false
	}
	return pageOf(s, r.Address(), component, func(p *page) V { return view(p, r) }), true
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
	addPage(s, censusPath, censusPage, (*page).census)
	addPage(s, guidePath, guidePage, (*page).guide)
	addPage(s, deskGuidePath, deskGuidePage, (*page).deskGuide)
	addPage(s, writeInPath, writeInPage, (*page).writeIn)
	addPage(s, offlinePath, offlinePage, (*page).offline)
	addPage(s, myBowsPath, myBowsPage, (*page).myBows)
	addPage(s, notFoundPath, notFoundPage, (*page).notFound)
	s.addIndexes()
}

// dataFiles lists the files for those who reuse the data, which may list all pages.
func (s *Site) dataFiles() []DataFile {
	if s.facts.Data == nil {
		return nil
	}
	var pages []string
	s.eachPage(func(path string) { pages = append(pages, path) })
	for path := range s.fixed {
		if strings.HasSuffix(path, ".html") && path != notFoundPath {
			pages = append(pages, path)
		}
	}
	slices.Sort(pages)
	return s.facts.Data(Shown{Pages: pages, Scan: s.shownScan, Recording: s.shownRecording})
}

func (s *Site) dataByPath() map[string]func(io.Writer) error {
	by := map[string]func(io.Writer) error{}
	for _, file := range s.data() {
		by[file.Name] = file.Write
	}
	return by
}

// eachPage names the page of every record, and the further parts of features'.
func (s *Site) eachPage(name func(path string)) {
	for _, r := range s.ref.Records() {
		if path := recordPath(r); path != "" {
			name(path)
		}
		if f, ok := r.(*schema.Feature); ok {
			for part := range s.featureParts(f) {
				name(featurePart(f, part))
			}
			continue
		}
		name(r.Address())
	}
}

// listBatches lists every file but those made elsewhere.
func (s *Site) listBatches() (batches [][]string) {
	alone := func(path string) { batches = append(batches, []string{path}) }
	for path := range s.fixed {
		alone(path)
	}
	s.eachPage(alone)
	for path := range s.moved {
		alone(path)
	}
	for _, file := range s.data() {
		alone(file.Name)
	}
	of := map[string][]string{} // by photograph
	for path, file := range s.photos {
		of[file.of] = append(of[file.of], path)
	}
	for _, paths := range of {
		slices.Sort(paths)
		batches = append(batches, paths)
	}
	slices.SortFunc(batches, func(a, b []string) int { return strings.Compare(a[0], b[0]) })
	return batches
}

func (s *Site) addAssets() {
	style := assets.Style()
	s.add(style.Path, func() ([]byte, error) { return style.Data, nil })
	for name, asset := range assets.Scripts() {
		if name == workerScript || name == retireScript {
			continue
		}
		s.add(asset.Path, func() ([]byte, error) { return asset.Data, nil })
	}
	s.add(iconPath, func() ([]byte, error) { return []byte(icon), nil })
	s.add(webManifestPath, func() ([]byte, error) { return s.webManifest(), nil })
	s.add(bowsSchemaPath, func() ([]byte, error) { return bowsSchema, nil })
	_, steps := guide.DeskSteps()
	for _, step := range steps {
		if step.Picture != nil {
			s.add(deskPictures+step.File, func() ([]byte, error) { return step.Picture, nil })
		}
	}
	s.addPictures()
	s.addCuts()
	s.addRecordings()
}

// iconPath is where the site's icon is kept.
const iconPath = "assets/icon.svg"

// icon is the edge of a limb: glass, maple, padauk, maple, glass.
const icon = `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 32 32"><g transform="rotate(-30 16 16)">` +
	`<rect x="2" y="4" width="28" height="7" fill="#173f36"/><rect x="2" y="11" width="28" height="3" fill="#e7cf9c"/>` +
	`<rect x="2" y="14" width="28" height="4" fill="#a3301a"/><rect x="2" y="18" width="28" height="3" fill="#e7cf9c"/>` +
	`<rect x="2" y="21" width="28" height="7" fill="#173f36"/></g></svg>`

// script gives the address of a script below the site's root, or an empty text
// where there is none.
func script(name string) string { return assets.Scripts()[name].Path }

// page is one page being written: the site seen from its path.
type page struct {
	*Site
	path string
	root string // the way up to the site's root: "" or "../"

	quotes *quotes // what its citations open
}

func (s *Site) page(path string) *page {
	return &page{Site: s, path: path, root: strings.Repeat("../", strings.Count(path, "/")), quotes: &quotes{}}
}

// to gives the way from this page to an address below the site's root.
func (p *page) to(address string) string { return p.root + address }
