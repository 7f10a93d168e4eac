package pages

import (
	"fmt"
	"io/fs"
	"maps"
	"slices"
	"strings"
	"sync"
)

// The folders below the site's root that hold files made elsewhere.
const (
	searchFolder = "data/search/"
	datingFolder = "data/dating/"
)

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
				if m.data[folder+f.Name] = f.Data; i == 0 {
					m.first = folder + f.Name
				}
			}
			return m, err
		})
	}
}

// Warm works out what most pages ask for, so that the first page need not wait.
func (s *Site) Warm() {
	var parts sync.WaitGroup
	parts.Go(func() { s.cited() })
	parts.Go(func() { s.seen() })
	parts.Wait()
}

// Make makes the files made elsewhere, so that who asks for them need not wait.
func (s *Site) Make() {
	var parts sync.WaitGroup
	for _, files := range s.made {
		parts.Go(func() { _, _ = files() })
	}
	parts.Wait()
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

// madeElsewhere says whether a path lies in a folder of files made elsewhere.
func (s *Site) madeElsewhere(path string) bool {
	for folder := range s.made {
		if strings.HasPrefix(path, folder) {
			return true
		}
	}
	return false
}

// madeFile gives a file made elsewhere.
func (s *Site) madeFile(path string) (func() []byte, error) {
	for folder, files := range s.made {
		if !strings.HasPrefix(path, folder) {
			continue
		}
		m, err := files()
		if err != nil {
			return nil, err
		}
		if data, ok := m.data[path]; ok {
			return data, nil
		}
	}
	return nil, noFile(path)
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
	return p.to(datingFolder + "manifest.json")
}
