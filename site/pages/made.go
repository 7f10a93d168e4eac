package pages

import (
	"bytes"
	"encoding/base64"
	"fmt"
	"io/fs"
	"maps"
	"path"
	"slices"
	"strings"
	"sync"
	"sync/atomic"

	"yearmark/site/assets"
)

// The folders below the site's root that hold files made elsewhere.
const (
	searchFolder = "data/search/"
	datingFolder = "data/dating/"
)

// datingManifestName is the one file of its folder that is not named by what it holds.
const datingManifestName = "manifest.js"

// madeFiles are the files of one such folder.
type madeFiles struct {
	first string // the path of the first of them
	data  map[string]func() []byte
}

// addMade adds the folders of files made elsewhere, which stay unmade until
// one of their files or its name is asked for.
func (s *Site) addMade() {
	s.made = map[string]func() (madeFiles, error){}
	for folder, files := range map[string]func() ([]File, error){searchFolder: s.facts.Search, datingFolder: s.facts.Dating} {
		if files == nil {
			continue
		}
		s.made[folder] = sync.OnceValues(func() (madeFiles, error) {
			list, err := files()
			m := madeFiles{data: make(map[string]func() []byte, len(list))}
			for i, f := range list {
				f = asScript(f)
				if m.data[folder+f.Name] = f.Data; i == 0 {
					m.first = folder + f.Name
				}
			}
			return m, err
		})
	}
}

// asScript gives a file that the site's scripts load as a script that hands
// over what it holds: JSON as it is, other bytes in base64. A page opened from
// a folder may load nothing else.
func asScript(f File) File {
	ending := path.Ext(f.Name)
	script := func() []byte {
		data := f.Data()
		if ending == ".json" {
			return slices.Concat([]byte("yearmark("), bytes.TrimSpace(data), []byte(")\n"))
		}
		return append(base64.StdEncoding.AppendEncode([]byte(`yearmark("`), data), "\")\n"...)
	}
	return File{Name: strings.TrimSuffix(f.Name, ending) + ".js", Data: script}
}

// wanted is what readers asked for of one state of a site.
type wanted struct{ pages, citings, search, dating atomic.Bool }

// note notes what kind of file was asked for.
func (w *wanted) note(path string) {
	switch {
	case path == "search.html" || strings.HasPrefix(path, searchFolder):
		w.search.Store(true)
	case path == "date.html" || strings.HasPrefix(path, datingFolder):
		w.dating.Store(true)
	case strings.HasSuffix(path, ".html"):
		w.pages.Store(true)
	}
}

// restingOn gives what cites a source or example, or nil where nothing does.
func (s *Site) restingOn(id string) *citedSource {
	s.wanted.citings.Store(true)
	return s.citings().of(id)
}

// Warm works out what readers asked for of the state before, so that they need
// not wait when they ask again; where there was none, what they may ask for.
func (s *Site) Warm(before *Site) {
	var parts sync.WaitGroup
	if before == nil || before.wanted.pages.Load() {
		parts.Go(func() { s.seen() })
	}
	if before == nil || before.wanted.citings.Load() {
		parts.Go(func() { s.citings() })
	}
	for folder, files := range s.made {
		if before == nil || folder == searchFolder && before.wanted.search.Load() || folder == datingFolder && before.wanted.dating.Load() {
			parts.Go(func() { _, _ = files() })
		}
	}
	parts.Wait()
}

// Lasting says whether a file is named by what it holds.
func (s *Site) Lasting(path string) bool {
	if _, made := s.madeWith(path); made {
		return path != datingFolder+datingManifestName
	}
	return strings.HasPrefix(path, assets.AssetFolder) && path != iconPath
}

// TakeMade makes the files made elsewhere, gives them by path, sorted, and lets
// go of them: the site cannot be asked for them any more. The error is that of
// making them.
func (s *Site) TakeMade() ([]File, error) {
	var list []File
	for _, files := range s.made {
		m, err := files()
		if err != nil {
			return nil, err
		}
		for path, data := range m.data {
			list = append(list, File{path, data})
		}
		clear(m.data)
	}
	slices.SortFunc(list, func(a, b File) int { return strings.Compare(a.Name, b.Name) })
	return list, nil
}

// madeWith gives the files that were made with one, where its path lies in a
// folder of files made elsewhere.
func (s *Site) madeWith(path string) (files func() (madeFiles, error), ok bool) {
	for folder, files := range s.made {
		if strings.HasPrefix(path, folder) {
			return files, true
		}
	}
	return nil, false
}

func noFile(path string) error {
	return fmt.Errorf("the site has no file %q: %w", path, fs.ErrNotExist)
}

// Own gives the path of every file that is not made elsewhere, sorted. The
// caller must not change the slice.
func (s *Site) Own() []string { return s.own() }

// Made gives the path of every file made elsewhere, sorted. Files that cannot
// be made are left out; asking for them tells why.
func (s *Site) Made() []string {
	var paths []string
	for _, files := range s.made {
		m, _ := files()
		paths = slices.AppendSeq(paths, maps.Keys(m.data))
	}
	slices.Sort(paths)
	return paths
}

// Paths gives the path of every file of the site, sorted.
func (s *Site) Paths() []string {
	paths := slices.Concat(s.own(), s.Made())
	slices.Sort(paths)
	return paths
}

// searchRoot gives the way to the search's first file, or an empty text.
func (p *page) searchRoot() string {
	files, ok := p.made[searchFolder]
	if !ok {
		return ""
	}
	if m, err := files(); err == nil && m.first != "" {
		return p.to(m.first)
	}
	return ""
}

// datingManifest gives the way to the dating tables' manifest, or an empty text.
func (p *page) datingManifest() string {
	if _, ok := p.made[datingFolder]; !ok {
		return ""
	}
	return p.to(datingFolder + datingManifestName)
}
