package pages

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"path"
	"slices"
	"strings"

	"yearmark/site/assets"
)

// Where the parts stand by which a browser keeps the site for where there is no
// reception.
const (
	offlinePath     = "offline.html"
	webManifestPath = "manifest.webmanifest"
	workerPath      = "worker.js" // at the root: a service worker serves what lies below it
	keptListPath    = "data/kept-"

	workerScript = "worker.js"
	retireScript = "retire.js"
)

// Written is a file that was published: its path, its size in bytes, and the
// SHA-256 of its content.
type Written struct {
	Path string
	Size int64
	Sum  [sha256.Size]byte
}

// The parts of a site that are kept, each with all before it: what one visit
// keeps, and what one press keeps as text, with drawings, and with all else.
const (
	keptAtOnce = iota
	keptText
	keptDrawings
	keptScans
	keptParts
)

// keptFile is a file in the list: its path, its size, and how its SHA-256 begins.
type keptFile [3]any

// sumDigits is how many hexadecimal digits of a sum tell one edition's file
// from another's.
const sumDigits = 16

func sumStart(sum [sha256.Size]byte) string { return hex.EncodeToString(sum[:])[:sumDigits] }

// published is what a worker knows of the edition that it was published with.
type published struct {
	Edition string `json:"edition"`
	List    string `json:"list"` // the path of the list of files
}

// Offline gives, for the files of a published site, the list of them, named by
// its content, and the service worker that reads it.
func (s *Site) Offline(files []Written) []File {
	parts := make([][]keptFile, keptParts)
	for i := range parts {
		parts[i] = []keptFile{} // an empty list, not null
	}
	shown := s.shownInForm()
	for _, f := range files {
		part := keptPart(f.Path, shown)
		parts[part] = append(parts[part], keptFile{f.Path, f.Size, sumStart(f.Sum)})
	}
	list := mustJSON(map[string]any{"version": 1, "edition": s.facts.Edition.String(), "parts": parts})
	at := published{s.facts.Edition.String(), keptListPath + sumStart(sha256.Sum256(list)) + ".json"}
	worker := slices.Concat([]byte("const published = "), mustJSON(at), []byte(";\n"), assets.Scripts()[workerScript].Data)
	return []File{
		{at.List, func() []byte { return list }},
		{workerPath, func() []byte { return worker }},
	}
}

// mustJSON encodes texts and figures, which cannot fail.
func mustJSON(v any) []byte {
	data, err := json.Marshal(v)
	if err != nil {
		panic("site/pages: " + err.Error())
	}
	return data
}

// needed are the pages that one visit keeps.
var needed = map[string]bool{
	"index.html": true, "date.html": true, "search.html": true, offlinePath: true, myBowsPath: true, webManifestPath: true,
	"pages/" + cautionsID + ".html": true,
}

func keptPart(name string, shown map[string]bool) int {
	switch {
	case needed[name], shown[name], strings.HasPrefix(name, assets.AssetFolder), strings.HasPrefix(name, datingFolder), strings.HasPrefix(name, searchFolder):
		return keptAtOnce
	case strings.HasSuffix(name, ".html"):
		return keptText
	case path.Ext(name) == ".svg":
		return keptDrawings
	}
	return keptScans
}

// shownInForm lists the drawings that the form shows beside its questions.
func (s *Site) shownInForm() map[string]bool {
	shown := map[string]bool{}
	add := func(name string) {
		if drawn := s.images[name].drawing; drawn != "" {
			shown[drawn] = true
		}
	}
	for _, f := range s.ref.Features.All() {
		add(f.Picture.Value)
		for _, v := range f.Values {
			add(v.Picture.Value)
		}
	}
	return shown
}

// webManifest tells a telephone how the site stands among its programs.
func (s *Site) webManifest() []byte {
	name := s.ref.Settings.Name.Value
	return mustJSON(map[string]any{
		"name": name, "short_name": name,
		"start_url": "./index.html", "scope": "./", "display": "minimal-ui", "background_color": "#eef0e4", "theme_color": "#173f36",
		"icons": []map[string]string{{"src": iconPath, "sizes": "any", "type": "image/svg+xml"}},
	})
}

// offlineView is the page on which a visitor keeps the register.
type offlineView struct{ Base base }

func (p *page) offline() offlineView {
	v := offlineView{p.base("Where there is no reception", "Keep the register on this device, and see what is kept.", "")}
	v.Base.Scripts = scripts("kept.js")
	return v
}
