package preview

import (
	"context"
	"os"
	"path/filepath"
	"testing"
	"time"
)

// saves lists ways in which editors and people change a folder.
var saves = []struct {
	name string
	do   func(folder string) error
}{
	{"write in place", func(d string) error { return os.WriteFile(filepath.Join(d, "models", "plover.md"), []byte("2"), 0o644) }},
	{"replace by rename", func(d string) error {
		if err := os.WriteFile(filepath.Join(d, "models", ".plover.tmp"), []byte("3"), 0o644); err != nil {
			return err
		}
		return os.Rename(filepath.Join(d, "models", ".plover.tmp"), filepath.Join(d, "models", "plover.md"))
	}},
	{"a file in a new folder", func(d string) error {
		if err := os.MkdirAll(filepath.Join(d, "sources"), 0o755); err != nil {
			return err
		}
		return os.WriteFile(filepath.Join(d, "sources", "list.md"), []byte("4"), 0o644)
	}},
	{"a later write in the new folder", func(d string) error {
		return os.WriteFile(filepath.Join(d, "sources", "list.md"), []byte("55"), 0o644)
	}},
	{"a rename", func(d string) error {
		return os.Rename(filepath.Join(d, "sources", "list.md"), filepath.Join(d, "sources", "other.md"))
	}},
	{"a removal", func(d string) error { return os.Remove(filepath.Join(d, "sources", "other.md")) }},
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

func expectEverySave(t *testing.T, watch func(context.Context, string, func()) error) {
	t.Helper()
	folder := watched(t)
	ctx, stop := context.WithCancel(context.Background())
	changes := make(chan struct{}, 100)
	ended := make(chan error, 1)
	go func() { ended <- watch(ctx, folder, func() { changes <- struct{}{} }) }()
	time.Sleep(200 * time.Millisecond)
	for _, save := range saves {
		if err := save.do(folder); err != nil {
			t.Fatal(err)
		}
		select {
		case <-changes:
		case <-time.After(5 * time.Second):
			t.Errorf("%s was not seen", save.name)
		}
		drain(changes)
	}
	stop()
	if err := <-ended; err != nil {
		t.Error(err)
	}
}

// drain waits until no more changes come of one save.
func drain(changes chan struct{}) {
	for {
		select {
		case <-changes:
		case <-time.After(quietFor + 100*time.Millisecond):
			return
		}
	}
}

func TestWatchSeesEverySave(t *testing.T) {
	expectEverySave(t, func(ctx context.Context, folder string, changed func()) error {
		return Watch(ctx, folder, changed, func(text string) { t.Error(text) })
	})
}

func TestPollSeesEverySave(t *testing.T) { expectEverySave(t, Poll) }

func TestABurstIsOneChange(t *testing.T) {
	folder := watched(t)
	ctx, stop := context.WithCancel(context.Background())
	defer stop()
	changes := make(chan struct{}, 100)
	go func() { _ = Watch(ctx, folder, func() { changes <- struct{}{} }, func(string) {}) }()
	time.Sleep(200 * time.Millisecond)
	for range 50 {
		if err := os.WriteFile(filepath.Join(folder, "models", "plover.md"), []byte("burst"), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	time.Sleep(quietFor + 500*time.Millisecond)
	if n := len(changes); n < 1 || n > 2 {
		t.Errorf("fifty writes in a row were %d changes, want one, or two on a slow machine", n)
	}
}
