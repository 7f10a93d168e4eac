package journal

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
)

// folder writes files into a folder of their own.
func folder(t *testing.T, files map[string]string) string {
	t.Helper()
	dir := t.TempDir()
	for name, text := range files {
		put(t, dir, name, text)
	}
	return dir
}

func put(t *testing.T, dir, name, text string) {
	t.Helper()
	path := filepath.Join(dir, filepath.FromSlash(name))
	err := os.MkdirAll(filepath.Dir(path), 0o755)
	if err == nil {
		err = os.WriteFile(path, []byte(text), 0o640)
	}
	if err != nil {
		t.Fatal(err)
	}
}

// records reads a folder back but for the journal.
func records(t *testing.T, dir string) map[string]string {
	t.Helper()
	files := map[string]string{}
	err := filepath.WalkDir(dir, func(path string, e os.DirEntry, err error) error {
		if err == nil && e.Name() == Folder {
			return fs.SkipDir
		}
		if err != nil || e.IsDir() {
			return err
		}
		data, err := os.ReadFile(path)
		name, _ := filepath.Rel(dir, path)
		files[filepath.ToSlash(name)] = string(data)
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return files
}

// held opens a folder's journal and gives what it says.
func held(t *testing.T, dir string) (*Journal, string) {
	t.Helper()
	var notes bytes.Buffer
	j, err := Open(context.Background(), dir, &notes)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = j.Close() })
	return j, notes.String()
}

// staged lists what lies about from exchanges.
func staged(t *testing.T, dir string) []string {
	t.Helper()
	left, err := filepath.Glob(filepath.Join(dir, filepath.FromSlash(staging), "*"))
	if err != nil {
		t.Fatal(err)
	}
	if _, err := os.Stat(filepath.Join(dir, filepath.FromSlash(pending))); err == nil {
		left = append(left, pending)
	}
	return left
}

var (
	before = map[string]string{"makers/a.md": "a", "models/b.md": "b", "models/c.md": "c"}
	after  = map[string]string{"makers/a.md": "A", "models/b.md": "B", "sources/d.md": "D"}
)

// four is a change of two files, a new one in a folder of its own, and one that goes.
func four() []Change {
	return []Change{
		{File: "makers/a.md", Before: []byte("a"), After: []byte("A")}, {File: "models/b.md", Before: []byte("b"), After: []byte("B")},
		{File: "models/c.md", Before: []byte("c")}, {File: "sources/d.md", After: []byte("D")},
	}
}

func TestAllIsWrittenAndTakenBack(t *testing.T) {
	dir := folder(t, before)
	j, notes := held(t, dir)
	if err := j.Write("import t.csv", four()); err != nil || notes != "" {
		t.Fatal(err, notes)
	}
	if d := cmp.Diff(after, records(t, dir)); d != "" {
		t.Error(d)
	}
	if info, err := os.Stat(filepath.Join(dir, "makers", "a.md")); err != nil || info.Mode().Perm() != 0o640 {
		t.Errorf("the record's mode became %v, %v", info.Mode(), err)
	}
	if info, err := os.Stat(filepath.Join(dir, filepath.FromSlash(entryFile(1)))); err != nil || info.Mode().Perm() != 0o640 {
		t.Errorf("the journal may be read by more than the records: %v, %v", info.Mode(), err)
	}
	if err := j.Write("receive bow.json", []Change{{File: "examples/1.md", After: []byte("1")}}); err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"receive bow.json", "import t.csv"} {
		if e, err := j.Undo(); err != nil || e == nil || e.Command != want {
			t.Fatalf("taken back: %+v, %v, want %s", e, err, want)
		}
	}
	if d := cmp.Diff(before, records(t, dir)); d != "" {
		t.Error(d)
	}
	if info, err := os.Stat(filepath.Join(dir, "models", "c.md")); err != nil || info.Mode().Perm() != 0o640 {
		t.Errorf("the record came back with the mode %v, %v", info.Mode(), err)
	}
	if e, err := j.Undo(); e != nil || err != nil {
		t.Errorf("taken back a third time: %+v, %v", e, err)
	}
	if left := staged(t, dir); len(left) > 0 {
		t.Errorf("left: %v", left)
	}
	if data, err := os.ReadFile(filepath.Join(dir, Folder, ".gitignore")); string(data) != "*\n" {
		t.Errorf("%q, %v", data, err)
	}
}

func TestUndoRefusesWhatWasChangedSince(t *testing.T) {
	dir := folder(t, before)
	j, _ := held(t, dir)
	if err := j.Write("import t.csv", four()); err != nil {
		t.Fatal(err)
	}
	put(t, dir, "models/b.md", "by hand")
	now := records(t, dir)
	if _, err := j.Undo(); err == nil || !strings.Contains(err.Error(), "models/b.md was changed since") {
		t.Errorf("got %v", err)
	}
	if d := cmp.Diff(now, records(t, dir)); d != "" {
		t.Error(d)
	}
}

// TestNothingIsOverwritten puts something in the way of one file of four.
func TestNothingIsOverwritten(t *testing.T) {
	for name, c := range map[string]struct {
		spoil func(dir string) error
		want  string
	}{
		"changed": {func(dir string) error { return os.WriteFile(dir+"/models/b.md", []byte("!"), 0o644) }, "models/b.md was changed in the meantime"},
		"deleted": {func(dir string) error { return os.Remove(dir + "/models/b.md") }, "models/b.md cannot be opened"},
		"there":   {func(dir string) error { return os.MkdirAll(dir+"/sources/d.md", 0o755) }, "sources/d.md is there by now"},
		"a link": {func(dir string) error {
			return errors.Join(os.Remove(dir+"/models/b.md"), os.Symlink("../makers/a.md", dir+"/models/b.md"))
		}, "models/b.md is a link"},
		"climbing": {func(dir string) error { return nil }, `"../e.md" is no file of a reference`},
		"hidden":   {func(dir string) error { return nil }, `".yearmark/e.md" is no file of a reference`},
	} {
		dir := folder(t, before)
		j, _ := held(t, dir)
		if err := c.spoil(dir); err != nil {
			t.Fatal(err)
		}
		changes := four()
		switch name {
		case "climbing":
			changes = append(changes, Change{File: "../e.md", After: []byte("e")})
		case "hidden":
			changes = append(changes, Change{File: ".yearmark/e.md", After: []byte("e")})
		}
		was := records(t, dir)
		err := j.Write("import t.csv", changes)
		if err == nil || !strings.HasPrefix(err.Error(), "nothing was written: ") || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: %v, want %q", name, err, c.want)
		}
		if d := cmp.Diff(was, records(t, dir)); d != "" {
			t.Errorf("%s: %s", name, d)
		}
		if left := staged(t, dir); len(left) > 0 {
			t.Errorf("%s: left: %v", name, left)
		}
	}
}

// TestASaveDuringTheExchangeStays changes each file after all was staged, when
// the files before it may have been exchanged already.
func TestASaveDuringTheExchangeStays(t *testing.T) {
	for i, c := range four() {
		dir := folder(t, before)
		j, _ := held(t, dir)
		x := &exchange{root: j.root}
		for _, c := range four() {
			if err := x.prepare(&c); err != nil {
				t.Fatal(err)
			}
		}
		put(t, dir, c.File, "saved meanwhile")
		for k := range x.prepared {
			if err := x.exchange(k); err == nil {
				continue
			} else if k != i || !strings.Contains(err.Error(), c.File+" ") {
				t.Errorf("%s: file %d: %v", c.File, k, err)
			}
			if err := x.back(k); err != nil {
				t.Error(err)
			}
			break
		}
		want := map[string]string{}
		for name, text := range before {
			want[name] = text
		}
		want[c.File] = "saved meanwhile"
		if d := cmp.Diff(want, records(t, dir)); d != "" {
			t.Errorf("%s: %s", c.File, d)
		}
	}
}

// TestAStoppedWriterIsFinishedOrTakenBack stops after each number of exchanges,
// with and without somebody's change of the last file afterwards.
func TestAStoppedWriterIsFinishedOrTakenBack(t *testing.T) {
	for done := range 5 {
		for _, foreign := range []bool{false, true} {
			dir := folder(t, before)
			j, _ := held(t, dir)
			x := &exchange{root: j.root}
			changes := four()
			for i := range changes {
				if err := x.prepare(&changes[i]); err != nil {
					t.Fatal(err)
				}
			}
			if err := j.announce(Entry{Version: version, Command: "import t.csv", Files: changes}); err != nil {
				t.Fatal(err)
			}
			for i := range done {
				if err := x.exchange(i); err != nil {
					t.Fatal(err)
				}
			}
			_ = j.Close()
			want := map[string]string{"sources/d.md": "mine"}
			for name, text := range before {
				want[name] = text
			}
			says := "it is taken back, since sources/d.md was changed"
			if foreign {
				put(t, dir, "sources/d.md", "mine")
			} else {
				want, says = after, `"import t.csv" was stopped half-way; it is finished`
			}
			j, notes := held(t, dir)
			if !strings.Contains(notes, says) {
				t.Errorf("stopped after %d: said %q", done, notes)
			}
			if d := cmp.Diff(want, records(t, dir)); d != "" {
				t.Errorf("stopped after %d: %s", done, d)
			}
			if left := staged(t, dir); len(left) > 0 {
				t.Errorf("stopped after %d: left: %v", done, left)
			}
			if !foreign {
				if _, err := j.Undo(); err != nil || cmp.Diff(before, records(t, dir)) != "" {
					t.Errorf("stopped after %d, not undone: %v", done, err)
				}
			}
			_ = j.Close()
		}
	}
}

// TestWritersQueue lets eight count up one file: no count is lost.
func TestWritersQueue(t *testing.T) {
	dir := folder(t, map[string]string{"pages/n.md": "0"})
	var all sync.WaitGroup
	for range 8 {
		all.Go(func() {
			j, err := Open(context.Background(), dir, new(bytes.Buffer))
			if err != nil {
				t.Error(err)
				return
			}
			defer j.Close()
			now, err := os.ReadFile(filepath.Join(dir, "pages", "n.md"))
			if err == nil {
				err = j.Write("count", []Change{{File: "pages/n.md", Before: now, After: append(now[:len(now):len(now)], '+')}})
			}
			if err != nil {
				t.Error(err)
			}
		})
	}
	all.Wait()
	if got := records(t, dir)["pages/n.md"]; got != "0++++++++" {
		t.Errorf("%q", got)
	}
	j, _ := held(t, dir)
	defer j.Close()
	ctx, cancel := context.WithTimeout(context.Background(), time.Millisecond)
	defer cancel()
	var notes bytes.Buffer
	if _, err := Open(ctx, dir, &notes); err == nil || !strings.Contains(notes.String(), "waiting: another command is writing") {
		t.Errorf("%v, %q", err, notes.String())
	}
}

// asWriter makes the test's binary flip a folder's files between small and
// capital letters for ever.
const asWriter = "YEARMARK_TEST_JOURNAL_FOLDER"

func TestMain(m *testing.M) {
	if dir := os.Getenv(asWriter); dir != "" {
		fmt.Fprintln(os.Stderr, flip(dir))
		os.Exit(1)
	}
	os.Exit(m.Run())
}

func flip(dir string) error {
	for {
		j, err := Open(context.Background(), dir, new(bytes.Buffer))
		if err != nil {
			return err
		}
		var changes []Change
		for i := range 6 {
			file := fmt.Sprintf("pages/%d.md", i)
			now, err := readFile(j.root, file)
			if err != nil {
				return err
			}
			next := bytes.ToUpper(now)
			if bytes.Equal(next, now) {
				next = bytes.ToLower(now)
			}
			changes = append(changes, Change{File: file, Before: now, After: next})
		}
		if err := errors.Join(j.Write("flip", changes), j.Close()); err != nil {
			return err
		}
		fmt.Print(".")
	}
}

// TestKilledAtAnyMoment kills the writer many times: each file is whole, old or
// new, before anything is mended, and all are of one state once the next writer
// has opened the folder; nothing is left.
func TestKilledAtAnyMoment(t *testing.T) {
	small := strings.Repeat("a line of a record\n", 400)
	files := map[string]string{}
	for i := range 6 {
		files[fmt.Sprintf("pages/%d.md", i)] = small
	}
	dir := folder(t, files)
	capital := strings.ToUpper(small)
	mixed := 0
	for range 40 {
		cmd := exec.Command(os.Args[0])
		cmd.Env = append(os.Environ(), asWriter+"="+dir)
		var out bytes.Buffer
		cmd.Stderr = &out
		progress, err := cmd.StdoutPipe()
		if err == nil {
			err = cmd.Start()
		}
		if err != nil {
			t.Fatal(err)
		}
		_, _ = progress.Read(make([]byte, 1)) // the first flip is done
		timer := time.AfterFunc(rand.N(60*time.Millisecond), func() { _ = cmd.Process.Kill() })
		_, _ = io.Copy(io.Discard, progress)
		_ = cmd.Wait()
		timer.Stop()
		if out.Len() > 0 {
			t.Fatal(out.String())
		}
		states := map[string]int{}
		for name, text := range records(t, dir) {
			if text != small && text != capital {
				t.Fatalf("%s is torn: %d bytes", name, len(text))
			}
			states[text]++
		}
		if len(states) > 1 {
			mixed++
		}
		j, _ := held(t, dir)
		states = map[string]int{}
		for _, text := range records(t, dir) {
			states[text]++
		}
		if len(states) != 1 || len(records(t, dir)) != len(files) {
			t.Fatalf("%d states after mending", len(states))
		}
		if left := staged(t, dir); len(left) > 0 {
			t.Fatalf("left: %v", left)
		}
		_ = j.Close()
	}
	t.Logf("%d of 40 kills fell between two exchanges", mixed)
}
