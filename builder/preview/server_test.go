package preview

import (
	"bufio"
	"fmt"
	"io"
	"io/fs"
	"net"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"
	"time"
)

// pagesOf is a site of fixed pages.
type pagesOf map[string]string

func (p pagesOf) Render(path string) ([]byte, error) {
	text, ok := p[path]
	if !ok {
		return nil, fmt.Errorf("%s: %w", path, fs.ErrNotExist)
	}
	return []byte(text), nil
}

const page = "<!doctype html><title>x</title><body>x</body>"

func testServer(t *testing.T) (*Server, *httptest.Server) {
	t.Helper()
	listeners, _, err := Listen(0)
	if err != nil {
		t.Fatal(err)
	}
	l := listeners[0]
	for _, other := range listeners[1:] {
		t.Cleanup(func() { other.Close() })
	}
	s := NewServer(l.Addr().(*net.TCPAddr).Port)
	s.Show(pagesOf{"index.html": page, "models/plover.html": page})
	h := &httptest.Server{Listener: l, Config: &http.Server{Handler: s}}
	h.Start()
	t.Cleanup(func() { s.Close(); h.Close() })
	return s, h
}

func get(t *testing.T, url string, change func(*http.Request)) (int, string, http.Header) {
	t.Helper()
	r, err := http.NewRequest(http.MethodGet, url, nil)
	if err != nil {
		t.Fatal(err)
	}
	if change != nil {
		change(r)
	}
	resp, err := http.DefaultClient.Do(r)
	if err != nil {
		t.Fatal(err)
	}
	defer resp.Body.Close()
	body, err := io.ReadAll(resp.Body)
	if err != nil {
		t.Fatal(err)
	}
	return resp.StatusCode, string(body), resp.Header
}

func TestOnlyItsOwnHostAndOriginAreAnswered(t *testing.T) {
	_, h := testServer(t)
	cases := []struct {
		name   string
		change func(*http.Request)
		want   int
	}{
		{"its own", nil, http.StatusOK},
		{"localhost", func(r *http.Request) { r.Host = strings.Replace(r.Host, "127.0.0.1", "localhost", 1) }, http.StatusOK},
		{"a foreign host name", func(r *http.Request) { r.Host = "bows.example.org" }, http.StatusForbidden},
		{"its address at another port", func(r *http.Request) { r.Host = "127.0.0.1:1" }, http.StatusForbidden},
		{"a foreign origin", func(r *http.Request) { r.Header.Set("Origin", "http://bows.example.org") }, http.StatusForbidden},
		{"a page of another site", func(r *http.Request) { r.Header.Set("Sec-Fetch-Site", "cross-site") }, http.StatusForbidden},
		{"a post", func(r *http.Request) { r.Method = http.MethodPost }, http.StatusForbidden},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			status, body, header := get(t, h.URL+"/", c.change)
			if status != c.want {
				t.Errorf("status %d, want %d", status, c.want)
			}
			if c.want == http.StatusOK && !strings.Contains(header.Get("Content-Security-Policy"), "default-src 'none'") {
				t.Error("answered without the site's policy")
			}
			if c.want != http.StatusOK && strings.Contains(body, "<title>") {
				t.Error("a refused request got the page")
			}
		})
	}
}

func TestNothingOutsideTheSiteIsServed(t *testing.T) {
	_, h := testServer(t)
	for _, path := range []string{"/../../etc/passwd", "/%2e%2e/%2e%2e/etc/passwd", "/models/..%2f..%2fx", "/none.html", "/models/"} {
		if status, _, _ := get(t, h.URL+path, nil); status != http.StatusNotFound && status != http.StatusBadRequest {
			t.Errorf("%s answered %d", path, status)
		}
	}
}

func TestAFetchGetsThePublishedBytes(t *testing.T) {
	_, h := testServer(t)
	if _, body, _ := get(t, h.URL+"/models/plover.html", nil); body != page {
		t.Errorf("got %q", body)
	}
	_, body, _ := get(t, h.URL+"/", func(r *http.Request) { r.Header.Set("Sec-Fetch-Dest", "document") })
	if !strings.Contains(body, "follow.js?1-0\"") {
		t.Errorf("a browser's page does not follow edits from its own state: %s", body)
	}
}

// lastingPages names the files below assets by what they hold.
type lastingPages struct{ pagesOf }

func (lastingPages) Lasting(path string) bool { return strings.HasPrefix(path, "assets/") }

func TestOnlyFilesNamedByWhatTheyHoldAreKept(t *testing.T) {
	s, h := testServer(t)
	s.Show(lastingPages{pagesOf{"index.html": page, "assets/a-1.css": "p {}"}})
	for path, want := range map[string]string{"/": "no-cache", "/assets/a-1.css": "max-age=31536000, immutable", "/-preview/follow.js": "no-cache"} {
		if _, _, header := get(t, h.URL+path, nil); header.Get("Cache-Control") != want {
			t.Errorf("%s: Cache-Control is %q, want %q", path, header.Get("Cache-Control"), want)
		}
	}
	if status, _, header := get(t, h.URL+"/assets/gone.css", nil); status != http.StatusNotFound || strings.Contains(header.Get("Cache-Control"), "immutable") {
		t.Errorf("what is not there: %d, Cache-Control %q", status, header.Get("Cache-Control"))
	}
}

func TestBrowsersHearOfEveryState(t *testing.T) {
	s, h := testServer(t)
	resp, err := http.Get(h.URL + ownPaths + "changes")
	if err != nil {
		t.Fatal(err)
	}
	defer resp.Body.Close()
	lines := bufio.NewScanner(resp.Body)
	next := func() (id, data string) {
		for lines.Scan() {
			if v, ok := strings.CutPrefix(lines.Text(), "id: "); ok {
				id = v
			}
			if v, ok := strings.CutPrefix(lines.Text(), "data: "); ok {
				return id, v
			}
		}
		t.Fatal("the stream ended")
		return
	}
	firstID, firstData := next()
	s.Announce("2 errors", "the findings")
	toldID, toldData := next()
	if firstData != "" || toldData != "2 errors" || firstID != toldID {
		t.Errorf("heard %s %q, then %s %q", firstID, firstData, toldID, toldData)
	}
	if _, body, _ := get(t, h.URL+"/", nil); body != page {
		t.Error("records with errors took the state away")
	}
	if _, body, _ := get(t, h.URL+ownPaths+"findings", nil); body != "the findings" {
		t.Errorf("findings %q", body)
	}
	s.Show(pagesOf{"index.html": page + "!"})
	if id, data := next(); id == firstID || data != "" {
		t.Errorf("of a newer state heard %s %q", id, data)
	}
	if _, body, _ := get(t, h.URL+"/", nil); body != page+"!" {
		t.Errorf("the newer state shows %q", body)
	}
}

// TestWhatIsComingIsWaitedFor: a page that is asked for once a newer state is
// announced is that state's, or the old one's where the newer cannot be shown.
func TestWhatIsComingIsWaitedFor(t *testing.T) {
	s, h := testServer(t)
	ask := func() chan string {
		answer := make(chan string, 1)
		go func() {
			_, body, _ := get(t, h.URL+"/models/plover.html", func(r *http.Request) { r.Header.Set("Sec-Fetch-Dest", "document") })
			answer <- body
		}()
		return answer
	}
	before := <-ask()
	number := func(body string) string {
		_, rest, _ := strings.Cut(body, "follow.js?")
		n, _, _ := strings.Cut(rest, `"`)
		return n
	}
	s.Coming()
	asked := ask()
	select {
	case body := <-asked:
		t.Fatalf("answered before the state stood: %s", body)
	case <-time.After(50 * time.Millisecond):
	}
	s.Coming() // announced twice is announced once
	newer := strings.ReplaceAll(page, ">x<", ">newer<")
	s.Show(pagesOf{"models/plover.html": newer})
	body := <-asked
	if !strings.Contains(body, "newer") || number(body) == number(before) || number(<-ask()) != number(body) {
		t.Errorf("after what was announced: %s, before it %s", body, before)
	}
	s.Coming()
	asked = ask()
	s.Announce("The records hold 1 error.", "findings")
	if body := <-asked; !strings.Contains(body, "newer") {
		t.Errorf("where the newer state cannot be shown the old one does not stay: %s", body)
	}
}
