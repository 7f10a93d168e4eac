package sheets

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// onDisk writes files into a folder of their own.
func onDisk(t *testing.T, files map[string]string) string {
	t.Helper()
	folder := t.TempDir()
	for name, data := range files {
		path := filepath.Join(folder, filepath.FromSlash(name))
		if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, []byte(data), 0o640); err != nil {
			t.Fatal(err)
		}
	}
	return folder
}

// tree reads a folder back.
func tree(t *testing.T, folder string) map[string]string {
	t.Helper()
	files := map[string]string{}
	err := filepath.WalkDir(folder, func(path string, e os.DirEntry, err error) error {
		if err != nil || e.IsDir() {
			return err
		}
		data, err := os.ReadFile(path)
		name, _ := filepath.Rel(folder, path)
		files[filepath.ToSlash(name)] = string(data)
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return files
}

// threeChanges is a plan of two changed records and a new one.
func threeChanges(t *testing.T, files map[string]string) *Plan {
	t.Helper()
	p, err := Prepare(load(t, files), "t.csv", changed(t, files, "sources\nset list-1955 kept \"Box 2\"\nset letter-1990 kept \"Box 3\"\nadd source book-2001 name Book kind book"))
	if err != nil || len(p.Changes) != 3 {
		t.Fatalf("%+v, %v", p, err)
	}
	return p
}

func TestWriteWritesAll(t *testing.T) {
	files := register(t)
	folder := onDisk(t, files)
	p := threeChanges(t, files)
	if err := p.Write(folder); err != nil {
		t.Fatal(err)
	}
	if d := cmp.Diff(after(files, p), tree(t, folder)); d != "" {
		t.Error(d)
	}
	info, err := os.Stat(filepath.Join(folder, "sources", "list-1955.md"))
	if err != nil || info.Mode().Perm() != 0o640 {
		t.Errorf("the record's mode became %v, %v", info.Mode(), err)
	}
}

// TestWriteWritesNothing puts something in the way of one record of three.
func TestWriteWritesNothing(t *testing.T) {
	files := register(t)
	for name, c := range map[string]struct {
		spoil func(folder string) error
		want  string
	}{
		"changed meanwhile": {func(f string) error {
			return os.WriteFile(filepath.Join(f, "sources", "letter-1990.md"), []byte("---\n"), 0o644)
		}, "sources/letter-1990.md was changed in the meantime"},
		"deleted meanwhile": {func(f string) error { return os.Remove(filepath.Join(f, "sources", "letter-1990.md")) }, "sources/letter-1990.md cannot be opened"},
		"there by now": {func(f string) error {
			return os.WriteFile(filepath.Join(f, "sources", "book-2001.md"), []byte("x"), 0o644)
		}, "sources/book-2001.md is there by now"},
		"a link": {func(f string) error {
			path := filepath.Join(f, "sources", "letter-1990.md")
			if err := os.Rename(path, filepath.Join(f, "elsewhere.md")); err != nil {
				return err
			}
			return os.Symlink("../elsewhere.md", path)
		}, "sources/letter-1990.md is a link to another file"},
	} {
		folder := onDisk(t, files)
		p := threeChanges(t, files)
		if err := c.spoil(folder); err != nil {
			t.Fatal(err)
		}
		before := tree(t, folder)
		err := p.Write(folder)
		if err == nil || !strings.Contains(err.Error(), c.want) || !strings.HasPrefix(err.Error(), "nothing was written: ") {
			t.Errorf("%s: want %q, got %v", name, c.want, err)
		}
		if d := cmp.Diff(before, tree(t, folder)); d != "" {
			t.Errorf("%s:\n%s", name, d)
		}
	}
}

// TestWritePutsBack lets the last exchange of three fail: the first two are undone.
func TestWritePutsBack(t *testing.T) {
	files := register(t)
	folder := onDisk(t, files)
	p := threeChanges(t, files)
	root, err := os.OpenRoot(folder)
	if err != nil {
		t.Fatal(err)
	}
	defer root.Close()
	w := &writing{root: root}
	for _, c := range p.Changes {
		if err := w.stage(c); err != nil {
			t.Fatal(err)
		}
	}
	last := filepath.Join(folder, filepath.FromSlash(p.Changes[2].File))
	if err := os.Remove(last); err != nil {
		t.Fatal(err)
	}
	if err := os.MkdirAll(filepath.Join(last, "in the way"), 0o755); err != nil {
		t.Fatal(err)
	}
	err = w.exchange()
	w.clear()
	if err == nil || !strings.Contains(err.Error(), "nothing was written: "+p.Changes[2].File+" cannot be exchanged") {
		t.Errorf("got %v", err)
	}
	want := register(t)
	delete(want, p.Changes[2].File)
	if d := cmp.Diff(want, tree(t, folder)); d != "" {
		t.Error(d)
	}
}
