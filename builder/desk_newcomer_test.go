package builder_test

import (
	"bufio"
	"bytes"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"
	"golang.org/x/image/webp"

	"yearmark/builder"
	"yearmark/checks"
	"yearmark/site/guide"
	"yearmark/testdata/need"
)

// newcomer types what a fixture holds, and counts what it costs.
type newcomer struct {
	deskTab
	words       map[string][]string // of the fixture, in order
	typed, taps int
	steps       []string // in order
}

// step begins a step of the guide once what came before it is pictured.
func (n *newcomer) step(name string) {
	n.t.Helper()
	n.pictureStep()
	n.steps = append(n.steps, name)
}

// pictureStep writes the picture of the last step for the guide, where
// YEARMARK_GUIDE_PICTURES is set: the part of the page that was filled in.
func (n *newcomer) pictureStep() {
	n.t.Helper()
	if os.Getenv("YEARMARK_GUIDE_PICTURES") == "" || len(n.steps) == 0 {
		return
	}
	n.evaluate(`(document.activeElement === document.body ? document.querySelector('h1') : document.activeElement.closest('.desk-entry, .desk-group, .desk-field') || document.activeElement).scrollIntoView({block: 'center'})`)
	time.Sleep(3 * time.Second) // what is found in the form has come by then
	quality := int64(55)
	shot, err := chromedp.Call(n.ctx, page.CaptureScreenshot, page.CaptureScreenshotParams{Format: page.CaptureScreenshotFormatWebp, Quality: &quality})
	if err != nil {
		n.t.Fatal(err)
	}
	file := filepath.Join(need.Root(n.t), "site", "guide", "desk", guide.PictureFile(n.steps[len(n.steps)-1]))
	if err := os.WriteFile(file, shot.Data, 0o644); err != nil {
		n.t.Fatal(err)
	}
}

func (n *newcomer) next(what string) string {
	n.t.Helper()
	if len(n.words[what]) == 0 {
		n.t.Fatalf("the fixture has no further %s", what)
	}
	word := n.words[what][0]
	n.words[what] = n.words[what][1:]
	return word
}

// fill puts the next word of the fixture into a box, which is one tap to get there.
func (n *newcomer) fill(path, what string) {
	n.t.Helper()
	word := n.next(what)
	n.typed, n.taps = n.typed+len([]rune(word)), n.taps+1
	n.deskTab.fill(path, word)
}

func (n *newcomer) tap(words string) {
	n.t.Helper()
	n.taps++
	n.press(words)
}

// choose takes a word from a list: one tap on the list, one on the word.
func (n *newcomer) choose(within, name, value string) {
	n.t.Helper()
	n.taps += 2
	n.evaluate(`document.querySelector('` + within + ` [name="` + name + `"]').value = '` + value + `'`)
}

// makes opens the short form at a box, fills it and makes the record.
func (n *newcomer) makes(what, path string, fill func(within string)) {
	n.t.Helper()
	n.taps++
	n.evaluate(`document.querySelector('[data-make="` + what + `"][data-for="` + path + `"]').click()`)
	fill("#make-" + what)
	n.taps++
	n.evaluate(`document.querySelector('#make-` + what + ` button[value=make]').click()`)
	n.awaitTrue(`!document.querySelector('#make-` + what + `').open`)
}

// short types the next word of the fixture into a box of the short form.
func (n *newcomer) short(within, name, what string) {
	n.t.Helper()
	word := n.next(what)
	n.typed, n.taps = n.typed+len([]rune(word)), n.taps+1
	n.evaluate(`document.querySelector('` + within + ` [name="` + name + `"]').value = ` + "`" + word + "`")
}

func (n *newcomer) source(path string) {
	n.t.Helper()
	n.fill(path, "source")
	n.makes("source", path, func(within string) {
		n.choose(within, "kind", map[bool]string{true: "price-list", false: "letter"}[strings.HasPrefix(path, "made")])
		n.short(within, "issued", "issued")
	})
	n.fill(path+":place", "place")
}

// TestANewcomersFirstModel makes, from an empty register and in a real
// Chromium, one model with three features and two sources, with the names of a
// fixture. The bounds are the design's: 450 characters, 60 taps or keys
// besides. What stands in the folder passes every check.
func TestANewcomersFirstModel(t *testing.T) {
	need.Chromium(t)
	folder := filepath.Join(t.TempDir(), "register")
	if err := os.MkdirAll(folder, 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(folder, "reference.yaml"), []byte("name: A first register\nyears: 1930/1985\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	n := &newcomer{deskTab: openDesk(t, folder), words: fixture(t, "testdata/newcomer.txt")}
	n.run(chromedp.EmulateViewport(guide.PictureWidth, guide.PictureHeight))
	n.step("Name the model and its maker")
	n.tap("New model")
	n.fill("name", "model")
	n.fill("maker", "maker")
	n.makes("maker", "maker", func(string) {})
	n.step("Say when it was made, and who says so")
	n.fill("made/span", "made")
	n.source("made/cites/0")
	for i, at := range []string{"features/0", "features/1", "features/2"} {
		n.step([]string{"Add a feature, and when it had it", "Add another, from another source", "Add a third"}[i])
		n.tap("Add a claim about a feature")
		n.fill(at+"/feature", "feature")
		n.makes("feature", at+"/feature", func(within string) {
			n.choose(within, "kind", "choice")
			n.short(within, "values", "values")
		})
		n.fill(at+"/value", "value")
		n.fill(at+"/span", "years")
		if i == 1 {
			n.source(at + "/cites/0")
		} else {
			n.taps++
			n.evaluate(`document.querySelector('[data-again="` + at + `/cites/0"]').click()`)
		}
		if i == 1 {
			n.picture("desk-newcomer.png", 1280)
		}
	}
	n.step("Save, and see what is found")
	n.tap("Save")
	n.pictureStep()
	if got := n.evaluate("location.pathname.split('/').slice(2).join('/')"); got != "edit/model/plover" {
		t.Fatalf("the model is not saved: the page is %s: %s", got, n.evaluate("document.querySelector('main').innerText.slice(0, 900)"))
	}
	t.Logf("%d characters typed, %d taps", n.typed, n.taps)
	if n.typed > 450 || n.taps > 60 {
		t.Errorf("%d characters and %d taps, want at most 450 and 60", n.typed, n.taps)
	}
	study, err := builder.Open(t.Context(), folder)
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range report(t, study).Findings {
		if f.Level != checks.Note {
			t.Errorf("%s: %s: %s", f.Pos, f.Check, f.Message)
		}
	}
	model, ok := study.Ref.Models.Get("plover")
	if !ok || len(model.Features) != 3 || study.Ref.Sources.Len() != 2 || study.Ref.Features.Len() != 3 {
		t.Fatalf("the folder does not hold what was typed:\n%s", n.read("models/plover.md"))
	}
	t.Log(n.read("models/plover.md"))
	_, told := guide.DeskSteps()
	var names []string
	for _, s := range told {
		names = append(names, s.Name)
	}
	if !slices.Equal(names, n.steps) {
		t.Errorf("the guide tells of %q, the script takes %q", names, n.steps)
	}
}

// TestThePicturesOfTheGuideAreLight wants a picture of every step, of the size
// that the page says, and all of them together below 300 kB.
func TestThePicturesOfTheGuideAreLight(t *testing.T) {
	_, steps := guide.DeskSteps()
	total, pictured := 0, 0
	for _, s := range steps {
		if s.Picture == nil {
			continue
		}
		pictured++
		size, err := webp.DecodeConfig(bytes.NewReader(s.Picture))
		if err != nil || size.Width != guide.PictureWidth || size.Height != guide.PictureHeight {
			t.Errorf("the picture of %q has %d by %d pixels: %v", s.Name, size.Width, size.Height, err)
		}
		total += len(s.Picture)
	}
	if pictured < len(steps) || total > 300_000 {
		t.Errorf("%d of %d steps have pictures, of %d bytes", pictured, len(steps), total)
	}
}

// fixture reads lines of a word and a text.
func fixture(t *testing.T, name string) map[string][]string {
	t.Helper()
	f, err := os.Open(name)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	words := map[string][]string{}
	for lines := bufio.NewScanner(f); lines.Scan(); {
		what, text, _ := strings.Cut(lines.Text(), " ")
		words[what] = append(words[what], strings.TrimSpace(text))
	}
	return words
}
