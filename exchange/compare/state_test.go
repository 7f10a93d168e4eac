package compare

import (
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"testing/fstest"

	"yearmark/checks"
	"yearmark/chronology"
	"yearmark/dating"
	"yearmark/provenance"
	"yearmark/schema"
	"yearmark/testdata/need"
)

// folder is a reference's files in memory.
type folder fstest.MapFS

// read gives a reference of this repository: "content", or the one that begin writes.
func read(t testing.TB, below ...string) folder {
	t.Helper()
	root := os.DirFS(filepath.Join(append([]string{need.Root(t)}, below...)...))
	files := folder{}
	err := fs.WalkDir(root, ".", func(name string, e fs.DirEntry, err error) error {
		if err != nil || e.IsDir() {
			return err
		}
		data, err := fs.ReadFile(root, name)
		files[name] = &fstest.MapFile{Data: data}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return files
}

func starter(t testing.TB) folder { return read(t, "builder", "starter", "files") }

// edit is one change to a folder: in a file, old text becomes new; without old
// text the file is new text, and without either it is gone.
type edit struct{ file, old, new string }

// with gives the folder after some edits.
func (f folder) with(t testing.TB, edits ...edit) folder {
	changed := folder{}
	for name, file := range f {
		changed[name] = file
	}
	for _, e := range edits {
		switch file := changed[e.file]; {
		case e.old == "" && e.new == "":
			delete(changed, e.file)
		case e.old == "":
			changed[e.file] = &fstest.MapFile{Data: []byte(e.new)}
		case file == nil || !strings.Contains(string(file.Data), e.old):
			t.Fatalf("%s does not hold %q", e.file, e.old)
		default:
			changed[e.file] = &fstest.MapFile{Data: []byte(strings.Replace(string(file.Data), e.old, e.new, 1))}
		}
	}
	return changed
}

// state works out what follows from a folder.
func (f folder) state(t testing.TB, name string) State {
	t.Helper()
	files := fstest.MapFS(f)
	ref, problems, err := schema.ReadFS(files, name)
	if err != nil {
		t.Fatal(err)
	}
	s := State{Name: name, Edition: "of " + name, Ref: ref, Timeline: chronology.Build(ref), Weighing: provenance.Weigh(ref)}
	s.Engine = dating.New(ref, s.Timeline, s.Weighing)
	if s.Report, err = checks.Run(t.Context(), checks.Input{Ref: ref, Problems: problems, Timeline: s.Timeline, Weighing: s.Weighing, Files: files}); err != nil {
		t.Fatal(err)
	}
	return s
}

func between(t *testing.T, before, after State) *Changes {
	t.Helper()
	c, err := Between(t.Context(), before, after)
	if err != nil {
		t.Fatal(err)
	}
	return c
}
