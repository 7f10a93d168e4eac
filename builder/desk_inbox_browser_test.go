package builder_test

import (
	"bytes"
	"image"
	"image/jpeg"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"

	"yearmark/testdata/need"
)

// TestTheInboxIsWalked takes in a bow with its photograph and a letter, sees
// what accepting would move, accepts, takes back, declines.
func TestTheInboxIsWalked(t *testing.T) {
	need.Chromium(t)
	d := openDesk(t, copyOfContent(t))
	home := d.evaluate("location.href")
	sent := t.TempDir()
	var photo bytes.Buffer
	if err := jpeg.Encode(&photo, image.NewRGBA(image.Rect(0, 0, 60, 40)), nil); err != nil {
		t.Fatal(err)
	}
	var files []string
	for name, text := range map[string]string{
		"bow.json": `{"yearmark":"submission","version":1,"reference":"The Fellside Bow Register","edition":"2026-11-14 0123","on":"2026-04-01","model":"plover",` +
			`"observed":[{"feature":"riser-wood","values":["padauk"],"sure":"sure"}],"photographs":[{"file":"IMG_0412.JPG","shows":"The riser from the left"}],"by":"P. Sorrel","private":{"contact":"hush@example.org"}}`,
		"IMG_0412.JPG": photo.String(),
		"known.json": `{"yearmark":"knowledge","version":1,"reference":"The Fellside Bow Register","edition":"2026-11-14 0123","on":"2026-04-02",` +
			`"about":"models/plover.html#script-mark","stance":"agrees","knows":"My father stamped them."}`,
	} {
		at := filepath.Join(sent, name)
		if err := os.WriteFile(at, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
		files = append(files, at)
	}
	d.press("Inbox")
	d.run(chromedp.SetUploadFiles("#Files", files))
	d.press("Take in")
	if got := d.evaluate("document.querySelectorAll('.desk-letters li').length"); got != "2" {
		t.Fatalf("%s letters wait: %s", got, d.evaluate("document.querySelector('main').innerText"))
	}
	d.picture("desk-inbox.png", 1280)
	d.press("A bow: Plover")
	d.awaitTrue("document.querySelector('.desk-pictures img')?.naturalWidth === 60")
	if page := d.evaluate("document.querySelector('main').innerText"); !strings.Contains(page, "hush@example.org") || !strings.Contains(page, "The riser from the left") || !strings.Contains(page, "What this would move") {
		t.Errorf("the letter's page says\n%s", page)
	}
	d.picture("desk-letter.png", 1280)
	d.press("Accept into the records")
	id := filepath.Base(d.evaluate("location.pathname"))
	record := d.read("examples/" + id + ".md")
	for _, part := range []string{"feature: riser-wood, value: padauk", "submitted:", "on: 2026-04-01", "file: examples/" + id + "-1.jpg", "The riser from the left"} {
		if !strings.Contains(record, part) {
			t.Errorf("the record does not hold %q:\n%s", part, record)
		}
	}
	if d.read("pictures/examples/"+id+"-1.jpg") == "" {
		t.Error("the picture is empty")
	}
	d.press("Take back: accept")
	if _, err := os.Stat(filepath.Join(d.folder, "examples", id+".md")); err == nil {
		t.Error("the record is there after it was taken back")
	}
	d.run(chromedp.Navigate(home + "inbox"))
	d.press("A bow: Plover")
	d.awaitTrue("document.querySelector('.desk-pictures img')?.naturalWidth === 60")
	d.press("Decline")
	if list, _ := filepath.Glob(filepath.Join(d.folder, "inbox", "declined", "*.json")); len(list) != 1 {
		t.Errorf("declined lie %v", list)
	}
	before := d.read("models/plover.md")
	d.press("Somebody knows something about Plover, Maker's mark: Script")
	d.picture("desk-letter-known.png", 1280)
	d.press("Accept into the records")
	if got := d.evaluate("location.pathname"); !strings.Contains(got, "/edit/source/visitor-2026-04-02-") {
		t.Errorf("after accepting stands %s", got)
	}
	if text := d.read("models/plover.md"); !strings.Contains(text, "visitor-2026-04-02-") {
		t.Error("the letter is not cited by the claim that it agrees with")
	}
	d.press("Take back: accept")
	if d.read("models/plover.md") != before {
		t.Error("the citation is not taken back byte for byte")
	}
}
