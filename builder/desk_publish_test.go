package builder

import (
	"archive/zip"
	"bytes"
	"image"
	"image/png"
	"mime/multipart"
	"net/http"
	"net/url"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// TestPublishingSaysWhatLeaves publishes twice from the desk. Before the second
// edition the page names what it adds, and a telephone number in it (of a range
// kept for fiction); a page that is gone is named after it.
func TestPublishingSaysWhatLeaves(t *testing.T) {
	s := serveDesk(t)
	to := filepath.Join(filepath.Dir(s.folder), "public")
	if _, page := s.get(s.path + "publish"); !strings.Contains(page, "No edition is remembered") || !strings.Contains(page, "Ada Brunt") {
		t.Errorf("before the first edition stands %.300s", page)
	}
	ask := url.Values{"-token": {s.token}, "folder": {to}, "pack": {"yes"}}
	if resp, page := s.post(s.path+"publish", ask, nil); resp.StatusCode != 200 || !strings.Contains(page, "Published.") {
		t.Fatalf("%d: %s", resp.StatusCode, page)
	}
	if _, err := os.Stat(filepath.Join(to, "models", "plover.html")); err != nil {
		t.Error(err)
	}
	if packed, err := zip.OpenReader(to + ".zip"); err != nil || packed.Close() != nil || len(packed.File) < 500 {
		t.Errorf("packed for upload: %v", err)
	}
	form := s.form("maker/halvane")
	form.Set("people/1/name", "Hob Nettle")
	form.Set("people/1/role", "designer")
	if resp, page := s.post(s.path+"edit/maker/halvane", form, nil); resp.StatusCode != 200 {
		t.Fatalf("%d: %.300s", resp.StatusCode, page)
	}
	form = s.form("model/plover")
	form.Set("features/0/note", "Ask at 01632 960 123.")
	if resp, page := s.post(s.path+"edit/model/plover", form, nil); resp.StatusCode != 200 {
		t.Fatalf("%d: %.300s", resp.StatusCode, page)
	}
	page, _ := os.ReadDir(filepath.Join(s.folder, "pages"))
	if err := os.Remove(filepath.Join(s.folder, "pages", page[0].Name())); err != nil {
		t.Fatal(err)
	}
	mark := "marks/new-mark.svg"
	if err := os.WriteFile(filepath.Join(s.folder, "pictures", filepath.FromSlash(mark)), []byte(`<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 1 1"/>`), 0o644); err != nil {
		t.Fatal(err)
	}
	_, view := s.get(s.path + "publish")
	for _, want := range []string{mark, "01632 960 123", "models/plover.md, line", to, "1 person or firm named for the first time", "Hob Nettle", "lead nowhere", "pages/" + strings.TrimSuffix(page[0].Name(), ".md") + ".html"} {
		if !strings.Contains(view, want) {
			t.Errorf("the page does not say %q", want)
		}
	}
	if resp, view := s.post(s.path+"publish", ask, nil); resp.StatusCode == 200 && !strings.Contains(view, "lead nowhere now") {
		t.Errorf("the lost page is not named: %d", resp.StatusCode)
	}
	if resp, view := s.post(s.path+"publish", url.Values{"-token": {s.token}, "folder": {filepath.Join(s.folder, "models")}}, nil); resp.StatusCode != 422 || !strings.Contains(view, "lies among the records") {
		t.Errorf("a folder among the records is answered with %d", resp.StatusCode)
	}
}

// TestAPictureIsTakenIn hands in one picture twice: each gets a name that is
// free, lies below pictures, and can be taken back. A token is needed.
func TestAPictureIsTakenIn(t *testing.T) {
	s := serveDesk(t)
	var drawn bytes.Buffer
	if err := png.Encode(&drawn, image.NewRGBA(image.Rect(0, 0, 30, 20))); err != nil {
		t.Fatal(err)
	}
	send := func(token, name string) (int, string) {
		var body bytes.Buffer
		form := multipart.NewWriter(&body)
		_ = form.WriteField("-token", token)
		part, _ := form.CreateFormFile("picture", name)
		_, _ = part.Write(drawn.Bytes())
		_ = form.Close()
		resp, text := s.post(s.path+"picture/example", nil, func(r *http.Request) {
			r.Header.Set("Content-Type", form.FormDataContentType())
			r.Body, r.ContentLength = readCloser{&body}, int64(body.Len())
		})
		return resp.StatusCode, text
	}
	for i, want := range []string{"examples/the-mark-of-1965.png", "examples/the-mark-of-1965-2.png"} {
		if status, text := send(s.token, "The mark of 1965.PNG"); status != 200 || !strings.Contains(text, `"id":"`+want+`"`) {
			t.Errorf("picture %d: %d, %s", i, status, text)
		}
		if data := s.file("pictures/" + want); !strings.HasPrefix(data, "\x89PNG") {
			t.Errorf("%s is no PNG", want)
		}
	}
	if status, _ := send("guessed", "a.png"); status != http.StatusForbidden {
		t.Errorf("without a token it is answered with %d", status)
	}
	if status, text := send(s.token, "page.pdf"); status != 422 || !strings.Contains(text, "JPEG or PNG") {
		t.Errorf("a PDF: %d, %s", status, text)
	}
}

type readCloser struct{ *bytes.Buffer }

func (readCloser) Close() error { return nil }
