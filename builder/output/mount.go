package output

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"maps"
	"os"
	"path"
	"path/filepath"
	"slices"
)

// A mount point cannot be renamed: its site is made in a folder within it and
// moved out. While that folder is there, what stands beside it is not whole.
const (
	mountScratch = ".yearmark-scratch"
	lostAndFound = "lost+found" // that many file systems put into an empty disk
)

// mayFill refuses a mount point that is not empty but for what an interrupted
// publish left.
func mayFill(target string, entries []fs.DirEntry, marked bool) error {
	has := func(name string) bool {
		return slices.ContainsFunc(entries, func(e fs.DirEntry) bool { return e.Name() == name })
	}
	if marked && has(mountScratch) {
		return nil
	}
	for _, e := range entries {
		if e.Name() != mountScratch && e.Name() != lostAndFound {
			return fmt.Errorf("%s is a mount point and not empty, so that no site can be exchanged there in one step; name a folder within it, such as %s", target, filepath.Join(target, "site"))
		}
	}
	return nil
}

// fillMount writes a site into an empty mount point. The mark goes first: it
// lists what the next publish takes away if this one is killed.
func fillMount(ctx context.Context, s *scratch, target string, mark Mark, fill func(*Writer) error) error {
	if err := emptyMount(target); err != nil {
		return err
	}
	if _, err := fillTree(ctx, s, nil, mark, fill); err != nil {
		return err
	}
	entries, err := os.ReadDir(s.tree())
	if err != nil {
		return err
	}
	slices.SortStableFunc(entries, func(a, b fs.DirEntry) int { return order(a.Name()) - order(b.Name()) })
	for _, e := range entries {
		if err := os.Rename(filepath.Join(s.tree(), e.Name()), filepath.Join(target, e.Name())); err != nil {
			return errors.Join(fmt.Errorf("cannot fill %s: %w", target, err), emptyMount(target))
		}
	}
	return nil
}

func order(name string) int {
	if name == MarkFile {
		return 0
	}
	return 1
}

// emptyMount takes away what the mark lists, the mark last.
func emptyMount(target string) error {
	m, marked, err := readMark(target)
	if err != nil || !marked {
		return err
	}
	root, err := os.OpenRoot(target) // no link leads out of it
	if err != nil {
		return err
	}
	defer root.Close()
	folders := map[string]bool{}
	for _, name := range m.Files {
		if gone := root.Remove(filepath.FromSlash(name)); gone != nil && !errors.Is(gone, fs.ErrNotExist) {
			err = errors.Join(err, gone)
		}
		for folder := path.Dir(name); folder != "."; folder = path.Dir(folder) {
			folders[folder] = true
		}
	}
	deepest := slices.SortedFunc(maps.Keys(folders), func(a, b string) int { return len(b) - len(a) })
	for _, folder := range deepest {
		_ = root.Remove(filepath.FromSlash(folder)) // stays where a person put something into it
	}
	if err != nil {
		return err
	}
	return root.Remove(MarkFile)
}
