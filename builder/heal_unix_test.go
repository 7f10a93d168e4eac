//go:build unix

package builder

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"

	"pgregory.net/rapid"

	"yearmark/site/pages"
	"yearmark/testdata/made"
	"yearmark/testdata/need"
)

// swapped is a reference's folder in which things are put in the place of
// others, and what stood there, which can be put back.
type swapped struct {
	folder, aside string // aside holds what stood there, under its path below folder
	away          map[string]bool
}

func (r *swapped) at(file string) string { return filepath.Join(r.folder, file) }
func (r *swapped) asideOf(file string) string {
	return filepath.Join(r.aside, strings.ReplaceAll(file, "/", "%"))
}

// takeAway moves a file or folder aside, unless it is there already.
func (r *swapped) takeAway(t *rapid.T, file string) {
	if r.away[file] {
		_ = os.RemoveAll(r.at(file))
		return
	}
	if err := os.Rename(r.at(file), r.asideOf(file)); err != nil {
		t.Fatal(err)
	}
	r.away[file] = true
}

// putBack puts back what stood there.
func (r *swapped) putBack(t *rapid.T, file string) {
	_ = os.RemoveAll(r.at(file))
	if err := os.Rename(r.asideOf(file), r.at(file)); err != nil {
		t.Fatal(err)
	}
	delete(r.away, file)
}

// replacements put something in the place of a record or a folder of records.
var replacements = map[string]func(path string) error{
	"nothing":             func(string) error { return nil },
	"a dangling link":     func(path string) error { return os.Symlink("nowhere", path) },
	"a link leading out":  func(path string) error { return os.Symlink("/etc/hostname", path) },
	"a link to a folder":  func(path string) error { return os.Symlink(os.TempDir(), path) },
	"a pipe":              func(path string) error { return syscall.Mkfifo(path, 0o644) },
	"an empty folder":     func(path string) error { return os.Mkdir(path, 0o755) },
	"a folder with words": func(path string) error { return made.Write(path, made.Options{Pages: made.Least, Seed: 9}) },
	"other bytes":         func(path string) error { return os.WriteFile(path, []byte("---\nrecord: page\n---\n"), 0o644) },
}

// swapWhole puts another reference in the place of the whole one: a restored
// copy whose files have the sizes and times of those before.
func (r *swapped) swapWhole(t *rapid.T) {
	restored := r.folder + "-restored"
	if err := os.CopyFS(restored, os.DirFS(r.folder)); err != nil {
		return // what stands there cannot be copied: a pipe, a link that leads nowhere
	}
	err := filepath.WalkDir(restored, func(path string, e os.DirEntry, err error) error {
		if err != nil || !e.Type().IsRegular() {
			return err
		}
		data, err := os.ReadFile(path)
		if err != nil {
			return err
		}
		if text := strings.Replace(string(data), "name: ", "name: Z", 1); strings.Contains(path, "sources") && len(text) == len(data)+1 {
			data = []byte(strings.TrimSuffix(text, "\n"))
			err = os.WriteFile(path, data, 0o644)
		}
		was, errWas := os.Stat(filepath.Join(r.folder, strings.TrimPrefix(path, restored)))
		if err != nil || errWas != nil {
			return err
		}
		return os.Chtimes(path, was.ModTime(), was.ModTime())
	})
	if err != nil {
		t.Fatal(err)
	}
	old := r.folder + "-old"
	if err := os.Rename(r.folder, old); err != nil {
		t.Fatal(err)
	}
	if err := os.Rename(restored, r.folder); err != nil {
		t.Fatal(err)
	}
	_ = os.RemoveAll(old)
}

// TestAnyWalkOfReplacementsHeals replaces records, folders and the whole
// reference, as drawn, and puts them back: after each step the followed site is
// that of a fresh start, and so it is once all is mended.
func TestAnyWalkOfReplacementsHeals(t *testing.T) {
	need.Long(t)
	few(t, "6")
	base := t.TempDir()
	if err := made.Write(base, made.Options{Pages: made.Least, Seed: 3}); err != nil {
		t.Fatal(err)
	}
	long := time.Now().Add(-time.Hour) // old enough that a later change shows in its time
	_ = filepath.WalkDir(base, func(path string, _ os.DirEntry, _ error) error { return os.Chtimes(path, long, long) })
	rapid.Check(t, func(t *rapid.T) {
		work, err := os.MkdirTemp("", "healed")
		if err != nil {
			t.Fatal(err)
		}
		defer os.RemoveAll(work)
		r := &swapped{folder: filepath.Join(work, "reference"), aside: filepath.Join(work, "aside"), away: map[string]bool{}}
		if err := os.CopyFS(r.folder, os.DirFS(base)); err != nil {
			t.Fatal(err)
		}
		if err := os.Mkdir(r.aside, 0o755); err != nil {
			t.Fatal(err)
		}
		f, err := Follow(t.Context(), r.folder)
		if err != nil {
			t.Fatal(err)
		}
		files := []string{"sources", "features", "sources/*", "models/*", "examples/*"}
		for i, pattern := range files[2:] {
			list, err := filepath.Glob(filepath.Join(base, pattern))
			if err != nil || len(list) == 0 {
				t.Fatalf("no %s", pattern)
			}
			files[i+2] = strings.TrimPrefix(list[0], base+"/")
		}
		images := &pages.ImageCache{}
		look := func(what string, told []string) {
			if _, err := f.Renew(t.Context(), told, nil); err != nil {
				t.Fatalf("after %s: %v", what, err)
			}
			sameSite(t, f, images, what)
		}
		for range rapid.IntRange(3, 10).Draw(t, "steps") {
			file := rapid.SampledFrom(files).Draw(t, "file")
			with := rapid.SampledFrom([]string{"nothing", "a dangling link", "a link leading out", "a link to a folder", "a pipe", "an empty folder", "a folder with words", "other bytes", "it again", "the whole"}).Draw(t, "with")
			if strings.HasPrefix(file, "sources/") && r.away["sources"] {
				continue
			}
			if file == "sources" && r.away[files[2]] {
				continue
			}
			switch {
			case with == "the whole":
				r.swapWhole(t)
				look("a restored copy", nil)
				continue
			case with != "it again":
				r.takeAway(t, file)
				if err := replacements[with](r.at(file)); err != nil {
					t.Fatal(err)
				}
			case r.away[file]:
				r.putBack(t, file)
			}
			look(fmt.Sprintf("%s in the place of %s", with, file), []string{file})
		}
		for file := range r.away {
			r.putBack(t, file)
			look("putting back "+file, []string{file})
		}
	})
}
