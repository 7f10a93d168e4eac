package builder

import (
	"bufio"
	"context"
	"fmt"
	"io"
	"net/http"
	"os"
	"path/filepath"
	"regexp"
	"runtime"
	"strconv"
	"strings"
	"sync"
	"testing"
	"time"

	"yearmark/testdata/made"
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

// locked is a writer and its text, safe for concurrent use.
type locked struct {
	mu   sync.Mutex
	text strings.Builder
}

func (l *locked) Write(p []byte) (int, error) {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.text.Write(p)
}

func (l *locked) String() string {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.text.String()
}

// served is a preview in this process, and a listener to its changes.
type served struct {
	folder, base string
	out          *locked
	states       chan int // the number of each newer state
}

func servePreview(t *testing.T, poll bool) *served {
	t.Helper()
	s := &served{folder: filepath.Join(t.TempDir(), "made"), out: &locked{}, states: make(chan int, 1000)}
	if err := made.Write(s.folder, made.Options{Pages: made.Least, Seed: 5}); err != nil {
		t.Fatal(err)
	}
	ctx, stop := context.WithCancel(context.Background())
	ended := make(chan error, 1)
	go func() { ended <- Preview(ctx, s.folder, PreviewOptions{Poll: poll, Out: s.out}) }()
	t.Cleanup(func() {
		stop()
		if err := <-ended; err != nil {
			t.Error(err)
		}
	})
	serving := regexp.MustCompile(`at (http://localhost:\d+)/`)
	for began := time.Now(); s.base == ""; time.Sleep(5 * time.Millisecond) {
		if m := serving.FindStringSubmatch(s.out.String()); m != nil {
			s.base = m[1]
		} else if time.Since(began) > 30*time.Second {
			t.Fatalf("the preview does not serve: %s", s.out)
		}
	}
	time.Sleep(100 * time.Millisecond) // until the folder is watched
	s.listen(t, ctx)
	return s
}

// listen follows the changes as a browser's page does.
func (s *served) listen(t *testing.T, ctx context.Context) {
	request, err := http.NewRequestWithContext(ctx, http.MethodGet, s.base+"/-preview/changes", nil)
	if err != nil {
		t.Fatal(err)
	}
	answer, err := (&http.Client{}).Do(request)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { answer.Body.Close() })
	go func() {
		before := 0
		for lines := bufio.NewScanner(answer.Body); lines.Scan(); {
			if id, ok := strings.CutPrefix(lines.Text(), "id: "); ok {
				if n, _ := strconv.Atoi(id); n != before {
					before = n
					s.states <- n
				}
			}
		}
	}()
	s.await(t, "the first state")
}

// await waits for a newer state.
func (s *served) await(t *testing.T, of string) {
	t.Helper()
	select {
	case <-s.states:
	case <-time.After(20 * time.Second):
		t.Fatalf("%s: no newer state was told of; the preview said\n%s", of, s.out)
	}
}

// get loads a file of the site.
func (s *served) get(t *testing.T, path string) (int, string) {
	t.Helper()
	answer, err := http.Get(s.base + "/" + path)
	if err != nil {
		t.Fatal(err)
	}
	defer answer.Body.Close()
	body, err := io.ReadAll(answer.Body)
	if err != nil {
		t.Fatal(err)
	}
	return answer.StatusCode, string(body)
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
			s.get(t, "data/dating/manifest.json")
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
