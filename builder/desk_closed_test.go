package builder

import (
	"io"
	"net"
	"net/http"
	"net/http/cookiejar"
	"net/url"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"yearmark/builder/desk"
	"yearmark/testdata/need"
)

// servedDesk is a desk over a copy of the demonstration, and a browser that was let in.
type servedDesk struct {
	t       *testing.T
	desk    *desk.Front
	folder  string
	address string // "http://127.0.0.1:4711"
	path    string // "/…/"
	token   string
	browser *http.Client
}

func serveDesk(t *testing.T) *servedDesk {
	t.Helper()
	t.Setenv("XDG_CONFIG_HOME", t.TempDir())
	folder := filepath.Join(t.TempDir(), "register")
	if err := os.CopyFS(folder, os.DirFS(filepath.Join(need.Root(t), "content"))); err != nil {
		t.Fatal(err)
	}
	r, err := newRegister(t.Context(), folder)
	if err != nil {
		t.Fatal(err)
	}
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	var d *desk.Front
	d = desk.NewFront(l.Addr().(*net.TCPAddr).Port, func(folder string) (*desk.Desk, error) {
		return d.New(folder, r, "http://localhost:1/", desk.NewShown(folder)), nil
	}, nil)
	if err := d.Open(folder); err != nil {
		t.Fatal(err)
	}
	web := &http.Server{Handler: d}
	go web.Serve(l)
	t.Cleanup(func() { _ = web.Close() })
	jar, _ := cookiejar.New(nil)
	s := &servedDesk{t: t, desk: d, folder: folder, address: "http://" + l.Addr().String(), browser: &http.Client{Jar: jar}}
	resp, _ := s.get(d.Way())
	s.path = resp.Request.URL.Path
	_, form := s.get(s.path + "edit/model/plover")
	s.token = regexp.MustCompile(`name="-token" value="([^"]+)"`).FindStringSubmatch(form)[1]
	return s
}

func (s *servedDesk) get(path string) (*http.Response, string) {
	s.t.Helper()
	resp, err := s.browser.Get(s.address + path)
	if err != nil {
		s.t.Fatal(err)
	}
	defer resp.Body.Close()
	body, _ := io.ReadAll(resp.Body)
	return resp, string(body)
}

// form gives a record's form as the browser would send it.
func (s *servedDesk) form(record string) url.Values {
	s.t.Helper()
	_, page := s.get(s.path + "edit/" + record)
	return formOf(s.t, page)
}

// post sends a form; change may alter the request.
func (s *servedDesk) post(path string, form url.Values, change func(*http.Request)) (*http.Response, string) {
	s.t.Helper()
	r, err := http.NewRequest(http.MethodPost, s.address+path, strings.NewReader(form.Encode()))
	if err != nil {
		s.t.Fatal(err)
	}
	r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
	r.Header.Set("Origin", s.address)
	if change != nil {
		change(r)
	}
	resp, err := s.browser.Do(r)
	if err != nil {
		s.t.Fatal(err)
	}
	defer resp.Body.Close()
	body, _ := io.ReadAll(resp.Body)
	return resp, string(body)
}

func (s *servedDesk) file(name string) string {
	s.t.Helper()
	data, err := os.ReadFile(filepath.Join(s.folder, filepath.FromSlash(name)))
	if err != nil {
		s.t.Fatal(err)
	}
	return string(data)
}

// TestTheDeskIsClosedToStrangers: each stranger sends what would otherwise be
// taken, and nothing changes.
func TestTheDeskIsClosedToStrangers(t *testing.T) {
	s := serveDesk(t)
	before := s.file("models/plover.md")
	form := s.form("model/plover")
	form.Set("name", "Stolen")
	for what, change := range map[string]func(*http.Request){
		"a page of another site":         func(r *http.Request) { r.Header.Set("Origin", "https://bows.example.org") },
		"a page that hides its origin":   func(r *http.Request) { r.Header.Del("Origin") },
		"another port of this machine":   func(r *http.Request) { r.Header.Set("Origin", "http://127.0.0.1:1") },
		"a name that leads to this port": func(r *http.Request) { r.Host = "bows.example.org" },
		"another account of this machine": func(r *http.Request) {
			r.Header.Set("Cookie", "desk=GUESSED")
			r.URL.Path = "/GUESSED/edit/model/plover"
		},
		"a browser without the cookie":     func(r *http.Request) { r.Header.Set("Cookie", "desk=GUESSED") },
		"another method":                   func(r *http.Request) { r.Method = http.MethodPut },
		"a form with a token of elsewhere": func(r *http.Request) { r.Body, r.ContentLength = tokened(form, "GUESSED") },
	} {
		client := *s.browser
		if strings.Contains(what, "cookie") || strings.Contains(what, "account") {
			client.Jar = nil
		}
		stranger := *s
		stranger.browser = &client
		resp, _ := stranger.post(s.path+"edit/model/plover", form, change)
		if resp.StatusCode != http.StatusForbidden || s.file("models/plover.md") != before {
			t.Errorf("%s is answered with %d", what, resp.StatusCode)
		}
	}
	stranger := *s
	stranger.browser = http.DefaultClient
	for _, path := range []string{s.path, s.path + "edit/model/plover", s.path + "desk.js", "/", "/?key=GUESSED", "/-key"} {
		if resp, body := stranger.get(path); resp.StatusCode != http.StatusForbidden || strings.Contains(body, "Plover") {
			t.Errorf("%s is answered to a stranger with %d", path, resp.StatusCode)
		}
	}
	if resp, _ := s.post(s.path+"edit/model/plover", form, nil); resp.StatusCode != http.StatusOK || !strings.Contains(s.file("models/plover.md"), "name: Stolen") {
		t.Errorf("the desk's own form is answered with %d", resp.StatusCode)
	}
}

func tokened(form url.Values, token string) (io.ReadCloser, int64) {
	other := url.Values{}
	for k, v := range form {
		other[k] = v
	}
	other.Set("-token", token)
	text := other.Encode()
	return io.NopCloser(strings.NewReader(text)), int64(len(text))
}

// TestAnAddressOpensTheDeskOnce uses a key twice.
func TestAnAddressOpensTheDeskOnce(t *testing.T) {
	s := serveDesk(t)
	way := s.desk.Way()
	first, second := *s, *s
	jar, _ := cookiejar.New(nil)
	first.browser, second.browser = &http.Client{Jar: jar}, &http.Client{}
	if resp, _ := first.get(way); resp.StatusCode != http.StatusOK {
		t.Errorf("the first use is answered with %d", resp.StatusCode)
	}
	if resp, _ := second.get(way); resp.StatusCode != http.StatusForbidden {
		t.Errorf("the second use is answered with %d", resp.StatusCode)
	}
}

// TestARunningDeskIsJoined: another start of the program gets an address that
// opens the desk; a program without the secret gets none.
func TestARunningDeskIsJoined(t *testing.T) {
	t.Setenv("XDG_CACHE_HOME", t.TempDir())
	s := serveDesk(t)
	if _, ok := desk.Join(s.folder); ok {
		t.Fatal("a desk is joined that left no word")
	}
	undo := s.desk.LeaveWord(s.folder, s.address)
	way, ok := desk.Join(s.folder)
	if !ok {
		t.Fatal("the desk is not joined")
	}
	jar, _ := cookiejar.New(nil)
	resp, err := (&http.Client{Jar: jar}).Get(way)
	if err != nil || resp.StatusCode != http.StatusOK {
		t.Errorf("the address of the joined desk: %v, %v", resp, err)
	}
	if resp, err := http.PostForm(s.address+"/-key", url.Values{"proof": {"guessed"}}); err != nil || resp.StatusCode != http.StatusForbidden {
		t.Errorf("a key is given for a guess: %v, %v", resp, err)
	}
	undo()
	if _, ok := desk.Join(s.folder); ok {
		t.Error("a desk is joined that has ended")
	}
}

// TestTwoTabsLoseNothing saves one record from two forms made of the same state.
func TestTwoTabsLoseNothing(t *testing.T) {
	s := serveDesk(t)
	first, second := s.form("model/plover"), s.form("model/plover")
	first.Set("name", "Golden Plover")
	second.Set("features/0/span", "1960/1961")
	if resp, _ := s.post(s.path+"edit/model/plover", first, nil); resp.StatusCode != http.StatusOK {
		t.Fatalf("the first is answered with %d", resp.StatusCode)
	}
	resp, page := s.post(s.path+"edit/model/plover", second, nil)
	if resp.StatusCode != http.StatusConflict || !strings.Contains(page, "Golden Plover") || !strings.Contains(page, "1960/1961") {
		t.Errorf("the second is answered with %d, and does not show both", resp.StatusCode)
	}
	if text := s.file("models/plover.md"); !strings.Contains(text, "name: Golden Plover") || strings.Contains(text, "1960/1961") {
		t.Error("the second has written over the first")
	}
	again := formOf(t, page)
	again.Set("name", "Golden Plover")
	if resp, _ := s.post(s.path+"edit/model/plover", again, nil); resp.StatusCode != http.StatusOK {
		t.Errorf("sent once more it is answered with %d", resp.StatusCode)
	}
	if text := s.file("models/plover.md"); !strings.Contains(text, "name: Golden Plover") || !strings.Contains(text, "1960/1961") {
		t.Error("not both changes stand")
	}
}

// TestNoPathLeadsOut asks for records by names that climb.
func TestNoPathLeadsOut(t *testing.T) {
	s := serveDesk(t)
	secret := filepath.Join(filepath.Dir(s.folder), "secret.md")
	if err := os.WriteFile(secret, []byte("---\nrecord: model\nname: Secret\n---\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	if err := os.Symlink(secret, filepath.Join(s.folder, "models", "linked.md")); err != nil {
		t.Fatal(err)
	}
	for _, id := range []string{"..%2F..%2Fsecret", "..%2Fsecret", "%2Fetc%2Fpasswd", "linked", "plover%00"} {
		if resp, body := s.get(s.path + "edit/model/" + id); resp.StatusCode == http.StatusOK || strings.Contains(body, "Secret") {
			t.Errorf("%s is answered with %d", id, resp.StatusCode)
		}
	}
	form := s.form("model/plover")
	form.Set("-id", "../../planted")
	if resp, _ := s.post(s.path+"new/model", form, nil); resp.StatusCode != http.StatusUnprocessableEntity {
		t.Errorf("a name that climbs is answered with %d", resp.StatusCode)
	}
}
