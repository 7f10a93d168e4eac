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
)

//go:embed all:files
var files embed.FS

// Write puts the starting reference into folder, which must be absent or
// empty, and gives the paths written, in order. If anything fails it takes
// back what it wrote.
func Write(folder string) ([]string, error) {
	entries, err := os.ReadDir(folder)
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return nil, fmt.Errorf("cannot look into %s: %w", folder, err)
	}
	if len(entries) > 0 {
		return nil, fmt.Errorf("%s is not empty; name a new folder, so that nothing of yours is written over", folder)
	}
	written, err := writeAll(folder)
	if err != nil {
		for _, name := range written {
			_ = os.Remove(filepath.Join(folder, name))
		}
		return nil, err
	}
	return written, nil
}

func writeAll(folder string) ([]string, error) {
	root, err := fs.Sub(files, "files")
	if err != nil {
		return nil, err
	}
	var written []string
	err = fs.WalkDir(root, ".", func(name string, e fs.DirEntry, err error) error {
		if err != nil || e.IsDir() {
			return err
		}
		data, err := fs.ReadFile(root, name)
		if err != nil {
			return err
		}
		written = append(written, name)
		return writeFile(filepath.Join(folder, filepath.FromSlash(name)), data)
	})
	if err != nil {
		return written, err
	}
	schemas, err := writeSchemas(folder)
	return append(written, schemas...), err
}

// writeSchemas writes the JSON Schemas by which editors complete keys.
func writeSchemas(folder string) ([]string, error) {
	all, err := blank.Schemas()
	if err != nil {
		return nil, err
	}
	var written []string
	for _, name := range slices.Sorted(maps.Keys(all)) {
		path := filepath.FromSlash(name)
		written = append(written, path)
		if err := writeFile(filepath.Join(folder, path), all[name]); err != nil {
			return written, err
		}
	}
	return written, nil
}

func writeFile(path string, data []byte) error {
	if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
		return fmt.Errorf("cannot make %s: %w", filepath.Dir(path), err)
	}
	if err := os.WriteFile(path, data, 0o644); err != nil {
		return fmt.Errorf("cannot write %s: %w", path, err)
	}
	return nil
}
