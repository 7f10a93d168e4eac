package builder

import (
	"fmt"
	"net/http"
	"os"
	"path/filepath"
	"runtime"
	"strconv"
	"strings"
	"testing"
	"time"
)

// held is what a process holds.
type held struct {
	heap, goroutines, descriptors, watches int
}

func (h held) String() string {
	return fmt.Sprintf("%.1f MB of heap, %d goroutines, %d descriptors, %d watches", float64(h.heap)/(1<<20), h.goroutines, h.descriptors, h.watches)
}

// holds looks at this process once it rests.
func holds(t *testing.T) held {
	t.Helper()
	http.DefaultClient.CloseIdleConnections()
	time.Sleep(2 * restBefore)
	runtime.GC()
	runtime.GC()
	var m runtime.MemStats
	runtime.ReadMemStats(&m)
	h := held{heap: int(m.HeapAlloc), goroutines: runtime.NumGoroutine()}
	open, err := os.ReadDir("/proc/self/fd")
	if err != nil {
		t.Fatal(err)
	}
	h.descriptors = len(open)
	for _, fd := range open {
		if info, err := os.ReadFile("/proc/self/fdinfo/" + fd.Name()); err == nil {
			h.watches += strings.Count(string(info), "inotify wd:")
		}
	}
	return h
}

// TestManyEditsLeaveNothingBehind makes many edits of a record in a row, each
// with a word of its own, loads what they change, and holds what the process
// has in hand at the end against what it had soon after the start.
// YEARMARK_EDITS says how many.
func TestManyEditsLeaveNothingBehind(t *testing.T) {
	edits, _ := strconv.Atoi(os.Getenv("YEARMARK_EDITS"))
	if edits == 0 {
		edits = 150
	}
	s := servePreview(t, false)
	models, err := filepath.Glob(filepath.Join(s.folder, "models", "*.md"))
	if err != nil || len(models) < 3 {
		t.Fatal(models, err)
	}
	text, err := os.ReadFile(models[0])
	if err != nil {
		t.Fatal(err)
	}
	address := "models/" + strings.TrimSuffix(filepath.Base(models[0]), ".md") + ".html"
	var began held
	for n := range edits {
		if n == min(100, edits/3) {
			began = holds(t)
		}
		words := fmt.Sprintf("Edited number %d, wordof%d.", n, n)
		if err := os.WriteFile(models[0], []byte(string(text)+"\n"+words+"\n"), 0o644); err != nil {
			t.Fatal(err)
		}
		s.await(t, words)
		if _, body := s.get(t, address); !strings.Contains(body, words) {
			t.Fatalf("the page is without %q", words)
		}
		if n%10 == 0 {
			s.get(t, "search.html")
			s.get(t, "data/dating/manifest.js")
		}
	}
	ended := holds(t)
	t.Logf("after %d edits %s;\nafter %d edits %s", min(100, edits/3), began, edits, ended)
	if ended.goroutines > began.goroutines+10 || ended.descriptors > began.descriptors+5 || ended.watches != began.watches {
		t.Errorf("from %s to %s", began, ended)
	}
	if most := began.heap + began.heap/4 + 8<<20; ended.heap > most {
		t.Errorf("the heap grew from %d to %d bytes", began.heap, ended.heap)
	}
}
