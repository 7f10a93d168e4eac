package builder

import (
	"bytes"
	"image"
	"image/color"
	"image/jpeg"
	"io"
	"mime/multipart"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"yearmark/builder/desk"
)

// What a visitor sends: a bow with a photograph, and what somebody knows.
const (
	sentBow = `{"yearmark":"submission","version":1,"reference":"The Fellside Bow Register","edition":"2026-11-14 0123","on":"2026-04-01","model":"plover",
		"observed":[{"feature":"riser-wood","values":["padauk"],"sure":"sure"}],"photographs":[{"file":"IMG_0412.JPG","shows":"The riser from the left"}],
		"note":"Bought at a fair.","by":"P. Sorrel","private":{"name":"Hush Hidden","contact":"hush@example.org"}}`
	sentKnowledge = `{"yearmark":"knowledge","version":1,"reference":"The Fellside Bow Register","edition":"2026-11-14 0123","on":"2026-04-02",
		"about":"models/plover.html#script-mark","stance":"agrees","knows":"My father stamped them."}`
)

// photograph is a JPEG of so many pixels.
func photograph(t testing.TB, width, height int) []byte {
	t.Helper()
	m := image.NewRGBA(image.Rect(0, 0, width, height))
	for y := range height {
		for x := range width {
			m.Set(x, y, color.RGBA{uint8(x * 3), uint8(y * 5), 90, 255})
		}
	}
	var b bytes.Buffer
	if err := jpeg.Encode(&b, m, nil); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// hugeJPEG says that it has 60,000 by 60,000 pixels (a frame header by ITU-T T.81, B.2.2).
func hugeJPEG(t testing.TB) []byte {
	data := photograph(t, 8, 8)
	at := bytes.Index(data, []byte{0xff, 0xc0})
	if at < 0 {
		t.Fatal("no frame header")
	}
	copy(data[at+5:], []byte{0xea, 0x60, 0xea, 0x60})
	return data
}

// sendIn posts files as the form of the inbox does.
func (s *servedDesk) sendIn(token string, files map[string][]byte, change func(*http.Request)) (*http.Response, string) {
	s.t.Helper()
	var b bytes.Buffer
	m := multipart.NewWriter(&b)
	_ = m.WriteField("-token", token)
	for name, data := range files {
		part, err := m.CreateFormFile("file", name)
		if err != nil {
			s.t.Fatal(err)
		}
		_, _ = part.Write(data)
	}
	_ = m.Close()
	return s.post(s.path+"inbox", nil, func(r *http.Request) {
		r.Body, r.ContentLength = io.NopCloser(&b), int64(b.Len())
		r.Header.Set("Content-Type", m.FormDataContentType())
		if change != nil {
			change(r)
		}
	})
}

// files lists every file of the folder but the journal's.
func (s *servedDesk) files() string {
	s.t.Helper()
	var list []string
	_ = filepath.WalkDir(s.folder, func(path string, e os.DirEntry, err error) error {
		if err == nil && e.Name() == ".yearmark" {
			return filepath.SkipDir
		}
		if err == nil && !e.IsDir() {
			data, _ := os.ReadFile(path)
			list = append(list, path+" "+string(data))
		}
		return nil
	})
	return strings.Join(list, "\n")
}

// TestWhatIsHostileIsNotTakenIn sends what no visitor's form makes: each is
// refused in words and leaves nothing behind.
func TestWhatIsHostileIsNotTakenIn(t *testing.T) {
	s := serveDesk(t)
	before := s.files()
	for name, c := range map[string]struct {
		data []byte
		says string
	}{
		"markup.json":   {[]byte(strings.Replace(sentBow, "Bought", "<script>", 1)), "a browser would take for markup"},
		"unknown.json":  {[]byte(strings.Replace(sentBow, `"model"`, `"more"`, 1)), "a key that no submission has"},
		"climbs.json":   {[]byte(strings.Replace(sentBow, "IMG_0412.JPG", "../../up.jpg", 1)), "not a plain file name"},
		"large.json":    {bytes.Repeat([]byte(" "), 300<<10), "more than 256 KB"},
		"page.json":     {[]byte("<html>"), "This is a web page"},
		"alone.jpg":     {photograph(t, 20, 10), "No letter in the inbox names this picture"},
		"program.exe":   {[]byte("MZ"), "No letter in the inbox names this picture"},
		"..%2fup.jpg":   {photograph(t, 20, 10), "No letter in the inbox names this picture"},
		"knowledge.svg": {[]byte("<svg/>"), "No letter in the inbox names this picture"},
	} {
		resp, page := s.sendIn(s.token, map[string][]byte{name: c.data}, nil)
		if resp.StatusCode != http.StatusUnprocessableEntity || !strings.Contains(page, c.says) {
			t.Errorf("%s is answered with %d, and not %q", name, resp.StatusCode, c.says)
		}
	}
	if s.files() != before {
		t.Error("something of what was refused is in the folder")
	}
	for name, c := range map[string]struct {
		data []byte
		says string
	}{
		"IMG_0412.JPG": {hugeJPEG(t), "pixels"}, "a.pdf": {[]byte("%PDF-1.7"), "save it as a JPEG or PNG"}, "b.heic": {[]byte("not a picture"), "no picture that can be read"},
	} {
		resp, page := s.sendIn(s.token, map[string][]byte{"bow.json": []byte(sentBow), name: c.data}, nil)
		if resp.StatusCode != http.StatusUnprocessableEntity || !strings.Contains(page, c.says) {
			t.Errorf("%s beside a letter is answered with %d, and not %q", name, resp.StatusCode, c.says)
		}
	}
	if list, _ := filepath.Glob(filepath.Join(s.folder, "inbox", "pictures", "*")); len(list) > 0 {
		t.Errorf("hostile pictures are kept: %v", list)
	}
}

// TestStrangersDecideNothing sends what would take in, accept and decline.
func TestStrangersDecideNothing(t *testing.T) {
	s := serveDesk(t)
	letter := map[string][]byte{"bow.json": []byte(sentBow)}
	other := func(r *http.Request) { r.Header.Set("Origin", "https://bows.example.org") }
	before := s.files()
	for _, try := range []func() (*http.Response, string){
		func() (*http.Response, string) { return s.sendIn("GUESSED", letter, nil) },
		func() (*http.Response, string) { return s.sendIn(s.token, letter, other) },
	} {
		if resp, _ := try(); resp.StatusCode != http.StatusForbidden || s.files() != before {
			t.Errorf("a stranger's letter is answered with %d", resp.StatusCode)
		}
	}
	if resp, page := s.sendIn(s.token, letter, nil); resp.StatusCode != http.StatusOK {
		t.Fatalf("a letter is answered with %d: %.400s", resp.StatusCode, page)
	}
	waiting, _ := filepath.Glob(filepath.Join(s.folder, "inbox", "*.json"))
	if len(waiting) != 1 {
		t.Fatalf("%v wait", waiting)
	}
	at := s.path + "inbox/" + filepath.Base(waiting[0])
	_, page := s.get(at)
	if strings.Contains(page, "Hush Hidden") != true {
		t.Error("the editor is not shown who sent it")
	}
	before = s.files()
	hash := strings.SplitN(strings.SplitN(page, `name="-hash" value="`, 2)[1], `"`, 2)[0]
	for _, do := range []string{"accept", "decline"} {
		for what, c := range map[string]struct {
			token, hash string
			change      func(*http.Request)
			want        int
		}{
			"a token of elsewhere":    {"GUESSED", hash, nil, http.StatusForbidden},
			"a page of another site":  {s.token, hash, other, http.StatusForbidden},
			"a page of another state": {s.token, "0123", nil, http.StatusUnprocessableEntity},
		} {
			form := map[string][]string{"-token": {c.token}, "-hash": {c.hash}, "-do": {do}}
			if resp, _ := s.post(at, form, c.change); resp.StatusCode != c.want || s.files() != before {
				t.Errorf("%s: %s is answered with %d", do, what, resp.StatusCode)
			}
		}
	}
}

// TestPicturesOfTheInboxAreShownSandboxed: they come below a path that nobody
// can guess, as nothing but pictures.
func TestPicturesOfTheInboxAreShownSandboxed(t *testing.T) {
	folder := t.TempDir()
	for name, text := range map[string]string{"pictures/a.svg": "<svg/>", "inbox/pictures/b.jpg": "x", "inbox/c.json": "{}", "models/d.md": "x", "pictures/e.html": "<b>"} {
		at := filepath.Join(folder, filepath.FromSlash(name))
		if err := os.MkdirAll(filepath.Dir(at), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(at, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	if err := os.Symlink("/etc/hostname", filepath.Join(folder, "pictures", "f.jpg")); err != nil {
		t.Fatal(err)
	}
	shown := desk.NewShown(folder)
	for path, want := range map[string]int{
		"pictures/a.svg": 200, "inbox/pictures/b.jpg": 200, "inbox/c.json": 404, "models/d.md": 404, "pictures/e.html": 404, "pictures/f.jpg": 404, "pictures/../models/d.md": 404, "pictures/missing.jpg": 404,
	} {
		w := httptest.NewRecorder()
		r := httptest.NewRequest(http.MethodGet, "/", nil)
		r.URL.Path = path
		shown.ServeHTTP(w, r)
		if w.Code != want || !strings.HasPrefix(w.Header().Get("Content-Security-Policy"), "sandbox; default-src 'none'") || w.Header().Get("X-Content-Type-Options") != "nosniff" {
			t.Errorf("%s is answered with %d, %v", path, w.Code, w.Header())
		}
	}
	if len(shown.Path()) < 20 || shown.Path() == desk.NewShown(folder).Path() {
		t.Errorf("the path %q can be guessed", shown.Path())
	}
}
