package preview

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync/atomic"
	"syscall"
	"testing"
	"time"

	"github.com/fsnotify/fsnotify"
)

// saves lists ways in which editors and people change a folder.
var saves = []struct {
	name, file string
	do         func(folder string) error
}{
	{"write in place", "models/plover.md", func(d string) error { return os.WriteFile(filepath.Join(d, "models", "plover.md"), []byte("2"), 0o644) }},
	{"replace by rename", "models/plover.md", func(d string) error {
		if err := os.WriteFile(filepath.Join(d, "models", ".plover.tmp"), []byte("3"), 0o644); err != nil {
			return err
		}
		return os.Rename(filepath.Join(d, "models", ".plover.tmp"), filepath.Join(d, "models", "plover.md"))
	}},
	{"a file in a new folder", "sources/list.md", func(d string) error {
		if err := os.MkdirAll(filepath.Join(d, "sources"), 0o755); err != nil {
			return err
		}
		return os.WriteFile(filepath.Join(d, "sources", "list.md"), []byte("4"), 0o644)
	}},
	{"a later write in the new folder", "sources/list.md", func(d string) error {
		return os.WriteFile(filepath.Join(d, "sources", "list.md"), []byte("55"), 0o644)
	}},
	{"a rename", "sources/other.md", func(d string) error {
		return os.Rename(filepath.Join(d, "sources", "list.md"), filepath.Join(d, "sources", "other.md"))
	}},
	{"a removal", "sources/other.md", func(d string) error { return os.Remove(filepath.Join(d, "sources", "other.md")) }},
}

func watched(t *testing.T) string {
	t.Helper()
	folder := t.TempDir()
	if err := os.MkdirAll(filepath.Join(folder, "models"), 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(folder, "models", "plover.md"), []byte("1"), 0o644); err != nil {
		t.Fatal(err)
	}
	return folder
}

func expectEverySave(t *testing.T, watch func(context.Context, string, func(Changes)) error) {
	t.Helper()
	folder := watched(t)
	ctx, stop := context.WithCancel(context.Background())
	changes := make(chan Changes, 100)
	ended := make(chan error, 1)
	go func() { ended <- watch(ctx, folder, func(c Changes) { changes <- c }) }()
	time.Sleep(200 * time.Millisecond)
	for _, save := range saves {
		if err := save.do(folder); err != nil {
			t.Fatal(err)
		}
		select {
		case c := <-changes:
			if all := drain(changes); !c.All && !all.All && !slices.Contains(append(c.Files, all.Files...), save.file) {
				t.Errorf("%s told %v and %v, without %s", save.name, c, all, save.file)
			}
		case <-time.After(5 * time.Second):
			t.Errorf("%s was not seen", save.name)
		}
	}
	stop()
	if err := <-ended; err != nil {
		t.Error(err)
	}
}

// drain waits until no more changes come of one save, and gives those that came.
func drain(changes chan Changes) (all Changes) {
	for {
		select {
		case c := <-changes:
			all.Files, all.All = append(all.Files, c.Files...), all.All || c.All
		case <-time.After(quietBurst + 200*time.Millisecond):
			return all
		}
	}
}

func TestWatchSeesEverySave(t *testing.T) {
	expectEverySave(t, func(ctx context.Context, folder string, changed func(Changes)) error {
		return Watch(ctx, folder, changed, func(text string) { t.Error(text) })
	})
}

func TestPollSeesEverySave(t *testing.T) { expectEverySave(t, Poll) }

// fewWatches gives a watch of a system that has so many watches left.
func fewWatches(folder string, left int, notice func(string)) *watch {
	return &watch{folder: folder, notice: notice, add: func(w *fsnotify.Watcher, folder string) error {
		if left--; left < 0 {
			return fmt.Errorf("%q: %w", folder, syscall.ENOSPC) // as the package has it on Linux
		}
		return w.Add(folder)
	}}
}

func TestWithoutWatchesLeftTheFolderIsLookedAt(t *testing.T) {
	for left := range 2 {
		var notices atomic.Int32
		expectEverySave(t, func(ctx context.Context, folder string, changed func(Changes)) error {
			return fewWatches(folder, left, func(string) { notices.Add(1) }).start(ctx, changed)
		})
		if notices.Load() != 1 {
			t.Errorf("with %d watches left it is told %d times that there are none", left, notices.Load())
		}
	}
}

// TestWithoutWatchesLeftForANewFolder: that it is not followed is told, and
// what was watched before still is.
func TestWithoutWatchesLeftForANewFolder(t *testing.T) {
	folder := watched(t)
	ctx, stop := context.WithCancel(context.Background())
	changes, notices := make(chan Changes, 100), make(chan string, 100)
	ended := make(chan error, 1)
	w := fewWatches(folder, 2, func(text string) { notices <- text })
	go func() { ended <- w.start(ctx, func(c Changes) { changes <- c }) }()
	time.Sleep(200 * time.Millisecond)
	if err := os.Mkdir(filepath.Join(folder, "sources"), 0o755); err != nil {
		t.Fatal(err)
	}
	select {
	case text := <-notices:
		if !strings.Contains(text, "--poll") {
			t.Errorf("told %q", text)
		}
	case <-time.After(5 * time.Second):
		t.Error("it is not told that a new folder is not followed")
	}
	drain(changes)
	if err := os.WriteFile(filepath.Join(folder, "models", "plover.md"), []byte("2"), 0o644); err != nil {
		t.Fatal(err)
	}
	if all := drain(changes); !slices.Contains(all.Files, "models/plover.md") {
		t.Errorf("of a folder watched before is told %v", all)
	}
	stop()
	if err := <-ended; err != nil {
		t.Error(err)
	}
}

func TestABurstIsFewChanges(t *testing.T) {
	folder := watched(t)
	ctx, stop := context.WithCancel(context.Background())
	defer stop()
	changes := make(chan Changes, 1000)
	go func() { _ = Watch(ctx, folder, func(c Changes) { changes <- c }, func(text string) { t.Error(text) }) }()
	time.Sleep(200 * time.Millisecond)
	want := map[string]bool{}
	for i := range 3000 {
		name := fmt.Sprintf("models/m%04d.md", i)
		want[name] = true
		if err := os.WriteFile(filepath.Join(folder, name), []byte("burst"), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	told, all := 0, false
	for len(want) > 0 && !all {
		select {
		case c := <-changes:
			told++
			all = c.All
			for _, name := range c.Files {
				delete(want, name)
			}
		case <-time.After(5 * time.Second):
			t.Fatalf("%d files were never told of", len(want))
		}
	}
	if told > 60 {
		t.Errorf("three thousand files were %d changes", told)
	}
}
