package pages

import (
	"bytes"
	"context"
	"encoding/base64"
	"fmt"
	"io/fs"
	"maps"
	"net/url"
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
	first  string // the path of the first of them
	header string // the path of the dating tables' header, among them
	data   map[string]func() []byte
}

// madeFolder makes the files of a folder once, when one is first asked for.
type madeFolder struct {
	folder string
	list   func(context.Context) ([]File, error)

	ready atomic.Bool
	mu    sync.Mutex
	files madeFiles
	err   error
}

// get gives the files, made now where they are not yet. Where ctx ends before
// they are made, the next call makes them.
func (m *madeFolder) get(ctx context.Context) (madeFiles, error) {
	m.mu.Lock()
	defer m.mu.Unlock()
	if m.ready.Load() {
		return m.files, m.err
	}
	list, err := m.list(ctx)
	if stopped := ctx.Err(); stopped != nil {
		return madeFiles{}, stopped
	}
	m.err, m.files.data = err, make(map[string]func() []byte, len(list))
	for i, f := range list {
		f = asScript(f)
		if m.files.data[m.folder+f.Name] = f.Data; i == 0 {
			m.files.first = m.folder + f.Name
		}
		if strings.HasPrefix(f.Name, "header-") {
			m.files.header = m.folder + f.Name
		}
	}
	m.ready.Store(true)
	return m.files, m.err
}

// addMade adds the folders of files made elsewhere, which stay unmade until
// one of their files or its name is asked for, or Make is called.
func (s *Site) addMade() {
	s.made = map[string]*madeFolder{}
	if s.facts.Search != nil {
		s.made[searchFolder] = &madeFolder{folder: searchFolder, list: s.facts.Search}
	}
	if s.facts.Dating != nil {
		list := func(ctx context.Context) ([]File, error) { return s.facts.Dating(ctx, s.quotesOf) }
		s.made[datingFolder] = &madeFolder{folder: datingFolder, list: list}
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

// Make makes the files that are made elsewhere, the search first. The error is
// that of making them, or ctx's.
func (s *Site) Make(ctx context.Context) error {
	for _, folder := range []string{searchFolder, datingFolder} {
		if m, ok := s.made[folder]; ok {
			if _, err := m.get(ctx); err != nil {
				return err
			}
		}
	}
	return nil
}

// Pending names what must be made before a file can be rendered at once, "the
// search" or "the form", or is empty.
func (s *Site) Pending(path string) string {
	needs := func(folder string, pages ...string) bool {
		m, ok := s.made[folder]
		return ok && !m.ready.Load() && (strings.HasPrefix(path, folder) || slices.Contains(pages, path))
	}
	switch {
	case needs(searchFolder, "search.html", "data.html"):
		return "the search"
	case needs(datingFolder, "date.html"):
		return "the form"
	}
	return ""
}

// restingOn gives what cites a source or example; it has no places where nothing does.
func (s *Site) restingOn(id string) *citedSource { return s.citings().of(id) }

// Lasting says whether a file is named by what it holds.
func (s *Site) Lasting(path string) bool {
	if _, made := s.madeWith(path); made {
		return path != datingFolder+datingManifestName
	}
	return strings.HasPrefix(path, assets.AssetFolder) && path != iconPath
}

// TakeMade makes the files made elsewhere, gives them by path, sorted, and lets
// go of them: the site cannot be asked for them any more. The error is that of
// making them, or ctx's.
func (s *Site) TakeMade(ctx context.Context) ([]File, error) {
	var list []File
	for _, files := range s.made {
		m, err := files.get(ctx)
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
func (s *Site) madeWith(path string) (files *madeFolder, ok bool) {
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

// Batches gives the path of every file that is not made elsewhere, once: those
// that are made of the same photograph in one batch, so that Write decodes it
// once for all of them, and every other in its own. They are sorted. The caller
// must not change the slices.
func (s *Site) Batches() [][]string { return s.batches() }

// Made gives the path of every file made elsewhere, sorted. Files that cannot
// be made are left out; asking for them tells why.
func (s *Site) Made() []string {
	var paths []string
	for _, files := range s.made {
		m, _ := files.get(context.Background())
		paths = slices.AppendSeq(paths, maps.Keys(m.data))
	}
	slices.Sort(paths)
	return paths
}

// Paths gives the path of every file of the site, sorted.
func (s *Site) Paths() []string {
	paths := slices.Concat(slices.Concat(s.batches()...), s.Made())
	slices.Sort(paths)
	return paths
}

// searchRoot gives the way to the search's first file, or an empty text.
func (p *page) searchRoot() string {
	files, ok := p.made[searchFolder]
	if !ok {
		return ""
	}
	if m, err := files.get(context.Background()); err == nil && m.first != "" {
		return p.to(m.first)
	}
	return ""
}

// datingTables gives the way to the folder of the dating tables, or an empty text.
func (p *page) datingTables() string {
	if _, ok := p.made[datingFolder]; !ok {
		return ""
	}
	return p.to(datingFolder)
}

// datingManifest gives the way to the dating tables' manifest, or an empty text.
func (p *page) datingManifest() string {
	if _, ok := p.made[datingFolder]; !ok {
		return ""
	}
	return p.to(datingFolder + datingManifestName)
}

// datingStart gives the ways to the files that the form asks for first, as its script asks for them.
func (p *page) datingStart() []string {
	files, ok := p.made[datingFolder]
	if !ok {
		return nil
	}
	m, err := files.get(context.Background())
	if err != nil {
		return nil
	}
	return []string{p.datingManifest() + "?" + url.PathEscape(p.facts.Edition.String()), p.to(m.header)}
}
