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
	"strconv"
	"strings"
	"sync"
	"testing"
	"time"

	"yearmark/testdata/made"
)

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
				number, _, _ := strings.Cut(id, "-")
				if n, _ := strconv.Atoi(number); n != before {
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

// record is a source of a name.
func record(name string) string {
	return "---\nrecord: source\nname: " + name + "\nkind: letter\nissued: 1981\n---\n"
}

// put writes a file of the folder.
func (s *served) put(t *testing.T, file, text string) {
	t.Helper()
	path := filepath.Join(s.folder, file)
	if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
}

// shows waits until a page has the words, or is gone where there are none.
func (s *served) shows(t *testing.T, page, words string) {
	t.Helper()
	status, body := 0, ""
	for began := time.Now(); time.Since(began) < 20*time.Second; time.Sleep(10 * time.Millisecond) {
		status, body = s.get(t, page)
		if words == "" && status == http.StatusNotFound || words != "" && strings.Contains(body, words) {
			return
		}
	}
	t.Fatalf("%s answers %d, and is without %q; the preview said\n%s", page, status, words, s.out)
}

// followsEverything goes through what editors and people do to a folder.
func followsEverything(t *testing.T, poll bool) {
	s := servePreview(t, poll)
	for _, step := range []struct {
		name        string
		do          func()
		page, words string
	}{
		{"a new record", func() { s.put(t, "sources/x.md", record("The first")) }, "sources/x.html", "The first"},
		{"written in place", func() { s.put(t, "sources/x.md", record("The second")) }, "sources/x.html", "The second"},
		{"replaced by rename", func() {
			s.put(t, "sources/.x.tmp", record("The third"))
			s.move(t, "sources/.x.tmp", "sources/x.md")
		}, "sources/x.html", "The third"},
		{"with a copy kept beside it", func() {
			s.move(t, "sources/x.md", "sources/x.md~")
			s.put(t, "sources/x.md", record("The fourth"))
		}, "sources/x.html", "The fourth"},
		{"renamed", func() { s.move(t, "sources/x.md", "sources/y.md") }, "sources/y.html", "The fourth"},
		{"gone from its old name", func() {}, "sources/x.html", ""},
		{"deleted", func() { s.move(t, "sources/y.md", "sources/.y.md") }, "sources/y.html", ""},
		{"a folder taken away", func() { s.move(t, "pages", ".pages") }, "pages/index.html", "0 pages"},
		{"a folder brought back", func() { s.move(t, ".pages", "pages") }, "pages/index.html", "2 pages"},
		{"a picture in a new folder", func() {
			s.put(t, "pictures/new/folder/mark.svg", `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 9 9"/>`)
		}, "pictures/new/folder/mark.svg", "0 0 9 9"},
		{"the picture drawn anew", func() {
			s.put(t, "pictures/new/folder/mark.svg", `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 8 8"/>`)
		}, "pictures/new/folder/mark.svg", "0 0 8 8"},
		{"the settings", func() {
			text, _ := os.ReadFile(filepath.Join(s.folder, "reference.yaml"))
			s.put(t, "reference.yaml", strings.Replace(string(text), "name: ", "name: Renamed ", 1))
		}, "index.html", "Renamed "},
	} {
		step.do()
		s.shows(t, step.page, step.words)
	}
}

func (s *served) move(t *testing.T, from, to string) {
	t.Helper()
	if err := os.Rename(filepath.Join(s.folder, from), filepath.Join(s.folder, to)); err != nil {
		t.Fatal(err)
	}
}

func TestThePreviewFollowsEverything(t *testing.T) { followsEverything(t, false) }

func TestThePreviewFollowsEverythingByLooking(t *testing.T) { followsEverything(t, true) }

func TestABurstOfFilesIsFollowed(t *testing.T) {
	s := servePreview(t, false)
	const files = 5000
	for i := range files {
		s.put(t, fmt.Sprintf("sources/burst-%04d.md", i), record(fmt.Sprintf("Number %d", i)))
	}
	s.shows(t, fmt.Sprintf("sources/burst-%04d.html", files-1), fmt.Sprintf("Number %d", files-1))
	s.shows(t, "sources/burst-0000.html", "Number 0")
	if n := strings.Count(s.out.String(), "read again"); n > 40 {
		t.Errorf("%d files were read in %d goes", files, n)
	}
}

// TestAFileHalfWrittenIsNoTrouble writes a record in two goes, then leaves one
// broken: only the second is told.
func TestAFileHalfWrittenIsNoTrouble(t *testing.T) {
	s := servePreview(t, false)
	text := record("Whole again")
	s.put(t, "sources/half.md", text[:20])
	time.Sleep(40 * time.Millisecond)
	s.put(t, "sources/half.md", text)
	s.shows(t, "sources/half.html", "Whole again")
	if strings.Contains(s.out.String(), "half.md\n") {
		t.Errorf("the half was told of: %s", s.out)
	}
	s.put(t, "sources/half.md", text[:20])
	s.shows(t, "-preview/findings", "sources/half.md")
	s.shows(t, "sources/half.html", "Whole again")
	s.put(t, "sources/half.md", record("Mended"))
	s.shows(t, "sources/half.html", "Mended")
}

// TestAContradictionIsToldAfterItIsShown edits a claim so that it contradicts
// another: the page shows it, and a moment later the browser hears of errors.
func TestAContradictionIsToldAfterItIsShown(t *testing.T) {
	s := servePreview(t, false)
	models, err := filepath.Glob(filepath.Join(s.folder, "models", "*.md"))
	if err != nil || len(models) == 0 {
		t.Fatal(err)
	}
	text, err := os.ReadFile(models[0])
	if err != nil {
		t.Fatal(err)
	}
	file, page := "models/"+filepath.Base(models[0]), "models/"+strings.TrimSuffix(filepath.Base(models[0]), ".md")+".html"
	s.put(t, file, strings.Replace(string(text), "\nfeatures:\n", "\nfeatures:\n  - {id: uncited, feature: riser-wood, value: walnut, span: 1960}\n", 1))
	s.shows(t, page, "uncited")
	s.shows(t, "-preview/findings", "error")
	s.put(t, file, string(text))
	s.shows(t, "-preview/findings", "notes in")
}

// TestThePreviewHeals puts other things in the place of a record, of a folder
// and of the whole reference, and then what stood there: it is shown without a
// further nudge.
func TestThePreviewHeals(t *testing.T) {
	s := servePreview(t, false)
	s.put(t, "sources/x.md", record("At first"))
	s.shows(t, "sources/x.html", "At first")
	file := filepath.Join(s.folder, "sources", "x.md")
	for n, replace := range []func() error{
		func() error { return os.Symlink("nowhere.md", file) },
		func() error { return os.Symlink(filepath.Join(t.TempDir(), "outside.md"), file) },
		func() error { return os.Mkdir(file, 0o755) },
	} {
		if err := os.Remove(file); err != nil {
			t.Fatal(err)
		}
		if err := replace(); err != nil {
			t.Fatal(err)
		}
		s.shows(t, "-preview/findings", "sources/x.md")
		if err := os.Remove(file); err != nil {
			t.Fatal(err)
		}
		words := fmt.Sprintf("Mended %d", n)
		s.put(t, "sources/x.md", record(words))
		s.shows(t, "sources/x.html", words)
	}
	s.copied(t, "sources", "others")
	s.move(t, "sources", ".away")
	s.move(t, ".others", "sources")
	s.put(t, "sources/x.md", record("In another folder"))
	s.shows(t, "sources/x.html", "In another folder")

	backup := s.folder + "-backup"
	if err := os.CopyFS(backup, os.DirFS(s.folder)); err != nil {
		t.Fatal(err)
	}
	text := record("Of the backup")
	if err := os.WriteFile(filepath.Join(backup, "sources", "x.md"), []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
	if err := os.Rename(s.folder, s.folder+"-away"); err != nil {
		t.Fatal(err)
	}
	if err := os.Rename(backup, s.folder); err != nil {
		t.Fatal(err)
	}
	s.shows(t, "sources/x.html", "Of the backup")
	s.put(t, "sources/x.md", record("Written later"))
	s.shows(t, "sources/x.html", "Written later")
}

// copied copies a folder of the reference to a hidden one.
func (s *served) copied(t *testing.T, from, to string) {
	t.Helper()
	if err := os.CopyFS(filepath.Join(s.folder, "."+to), os.DirFS(filepath.Join(s.folder, from))); err != nil {
		t.Fatal(err)
	}
}

// TestTheSearchFollowsThePage asks for the search at once: it is said that it
// is being made, and the same address shows it when it is there.
func TestTheSearchFollowsThePage(t *testing.T) {
	s := servePreview(t, false)
	for page, words := range map[string][2]string{
		"search.html": {"the search is being made", "Search"}, "date.html": {"the form is being made", "Date"},
	} {
		s.shows(t, page, words[1])
		if status, body := s.get(t, page); status == http.StatusOK && strings.Contains(body, words[0]) {
			t.Errorf("%s is served and still says that it is being made", page)
		}
	}
	s.put(t, "sources/x.md", record("A new state"))
	s.await(t, "a record more")
	if status, body := s.get(t, "search.html"); status == http.StatusServiceUnavailable && !strings.Contains(body, "the search is being made") {
		t.Errorf("the search that is not there yet says %s", body)
	}
	for began := time.Now(); time.Since(began) < 20*time.Second; time.Sleep(10 * time.Millisecond) {
		if status, _ := s.get(t, "search.html"); status == http.StatusOK {
			return
		}
	}
	t.Errorf("the search is never made: %s", s.out)
}
