// Package starter holds the small reference that a new club begins from. It
// passes every check, and each of its records shows one thing worth knowing.
package starter

import (
	"embed"
	"errors"
	"fmt"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"slices"

	"yearmark/exchange/intake/blank"
	"yearmark/exchange/journal"
)

//go:embed all:files
var files embed.FS

// Write puts the starting reference into folder, which must be absent or
// empty, and gives the paths written, in order. If anything fails it takes
// back what it wrote, folders included.
func Write(folder string) ([]string, error) {
	entries, err := os.ReadDir(folder)
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return nil, fmt.Errorf("cannot look into %s: %w", folder, err)
	}
	if len(entries) > 0 {
		return nil, fmt.Errorf("%s is not empty; name a new folder, so that nothing of yours is written over", folder)
	}
	all, names, err := contents()
	if err != nil {
		return nil, err
	}
	var made []string // files and folders, in the order made
	for _, name := range names {
		if err := write(filepath.Join(folder, filepath.FromSlash(name)), all[name], &made); err != nil {
			for _, path := range slices.Backward(made) {
				_ = os.Remove(path) // a folder stays where somebody put something into it
			}
			return nil, err
		}
	}
	return names, nil
}

// Begin puts a new reference into folder, which must be absent or empty: the
// starting one, or one without records.
func Begin(folder string, empty bool) error {
	if !empty {
		_, err := Write(folder)
		return err
	}
	entries, err := os.ReadDir(folder)
	switch {
	case err != nil && !errors.Is(err, fs.ErrNotExist):
		return fmt.Errorf("cannot look into %s: %w", folder, err)
	case len(entries) > 0:
		return fmt.Errorf("%s is not empty; name a new folder, so that nothing of yours is written over", folder)
	}
	var made []string
	return write(filepath.Join(folder, "reference.yaml"), []byte(emptyReference), &made)
}

// emptyReference is a reference without records. The years are wide: an editor
// narrows them.
const emptyReference = `name: A new register
years: 1900/1999            # the years in which anything can fall
`

// contents gives the records, and after them what stands in the journal's
// folder: the JSON Schemas by which editors complete keys.
func contents() (all map[string][]byte, names []string, err error) {
	all = map[string][]byte{}
	root, err := fs.Sub(files, "files")
	if err != nil {
		return nil, nil, err
	}
	err = fs.WalkDir(root, ".", func(name string, e fs.DirEntry, err error) error {
		if err != nil || e.IsDir() {
			return err
		}
		names = append(names, name)
		all[name], err = fs.ReadFile(root, name)
		return err
	})
	if err != nil {
		return nil, nil, err
	}
	schemas, err := blank.Schemas()
	if err != nil {
		return nil, nil, err
	}
	schemas[journal.IgnoreFile] = []byte(journal.IgnoreAll)
	maps.Copy(all, schemas)
	return all, append(names, slices.Sorted(maps.Keys(schemas))...), nil
}

func write(path string, data []byte, made *[]string) error {
	if err := makeFolder(filepath.Dir(path), made); err != nil {
		return err
	}
	*made = append(*made, path)
	if err := os.WriteFile(path, data, 0o644); err != nil {
		return fmt.Errorf("cannot write %s: %w", path, err)
	}
	return nil
}

// makeFolder makes a folder and those above it that are not there.
func makeFolder(path string, made *[]string) error {
	if _, err := os.Stat(path); err == nil {
		return nil
	}
	if above := filepath.Dir(path); above != path {
		if err := makeFolder(above, made); err != nil {
			return err
		}
	}
	if err := os.Mkdir(path, 0o755); err != nil {
		return fmt.Errorf("cannot make %s: %w", path, err)
	}
	*made = append(*made, path)
	return nil
}
