package preview

import (
	"context"
	"io/fs"
	"os"
	"path/filepath"
	"time"
)

// pollEvery is how often a folder is looked at that cannot be watched.
const pollEvery = 500 * time.Millisecond

// Poll calls changed whenever a name below folder, or the size, modification
// time or identity of a file, differs from the last look, until the context ends.
func Poll(ctx context.Context, folder string, changed func(Changes)) error {
	last := snapshot(folder)
	tick := time.NewTicker(pollEvery)
	defer tick.Stop()
	for {
		select {
		case <-ctx.Done():
			return nil
		case <-tick.C:
			now := snapshot(folder)
			if c := now.since(last); len(c.Files) > 0 {
				changed(c)
			}
			last = now
		}
	}
}

// seen is what shows whether a file changed; nil of a folder.
type seen struct{ fs.FileInfo }

// same says that it is the same file, and not changed. A restored copy may have
// the size and the time of what stood there.
func (s seen) same(was seen) bool {
	if s.FileInfo == nil || was.FileInfo == nil {
		return s.FileInfo == was.FileInfo
	}
	return os.SameFile(s, was) && s.Size() == was.Size() && s.ModTime().Equal(was.ModTime())
}

// seenFiles is the files of a folder at one look.
type seenFiles map[string]seen

// since lists the files that were added, removed or changed.
func (now seenFiles) since(before seenFiles) Changes {
	var c Changes
	for name, s := range now {
		if was, known := before[name]; !known || !s.same(was) {
			c.Files = append(c.Files, name)
		}
	}
	for name := range before {
		if _, still := now[name]; !still {
			c.Files = append(c.Files, name)
		}
	}
	return c
}

// snapshot notes every file and folder below a folder that is not hidden. Of a
// folder it counts that it is there.
func snapshot(folder string) seenFiles {
	files := seenFiles{}
	_ = filepath.WalkDir(folder, func(path string, e fs.DirEntry, err error) error {
		if err != nil {
			return nil
		}
		if hidden(e.Name()) && path != folder {
			if e.IsDir() {
				return fs.SkipDir
			}
			return nil
		}
		name, err := filepath.Rel(folder, path)
		switch {
		case err != nil || name == ".":
			return nil
		case e.IsDir():
			files[filepath.ToSlash(name)] = seen{}
			return nil
		}
		if info, err := e.Info(); err == nil {
			files[filepath.ToSlash(name)] = seen{info}
		}
		return nil
	})
	return files
}
