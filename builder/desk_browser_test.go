package builder_test

import (
	"bytes"
	"context"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"

	"yearmark/builder"
	"yearmark/testdata/chromium"
	"yearmark/testdata/need"
)

// deskTab is a desk over a copy of records, and a tab of a real Chromium in it.
type deskTab struct {
	t      *testing.T
	ctx    context.Context
	folder string
}

// openDesk serves a desk over a folder that may be written to.
func openDesk(t *testing.T, folder string) deskTab {
	t.Helper()
	t.Setenv("XDG_CACHE_HOME", t.TempDir())
	t.Setenv("XDG_CONFIG_HOME", t.TempDir())
	tab := chromium.Tab(t)
	ctx, stop := context.WithCancel(t.Context())
	way, ended := make(chan string, 1), make(chan error, 1)
	go func() {
		ended <- builder.Desk(ctx, folder, builder.DeskOptions{Out: &lockedBuffer{}, Open: func(address string) { way <- address }})
	}()
	t.Cleanup(func() {
		stop()
		if err := <-ended; err != nil {
			t.Error(err)
		}
	})
	select {
	case address := <-way:
		d := deskTab{t, tab, folder}
		d.run(chromedp.Navigate(address))
		return d
	case err := <-ended:
		ended <- nil
		t.Fatal(err)
	}
	return deskTab{}
}

// lockedBuffer takes what several write.
type lockedBuffer struct {
	mu sync.Mutex
	bytes.Buffer
}

func (b *lockedBuffer) Write(p []byte) (int, error) {
	b.mu.Lock()
	defer b.mu.Unlock()
	return b.Buffer.Write(p)
}

func (d deskTab) run(actions ...chromedp.Action[chromedp.Void]) {
	d.t.Helper()
	if err := chromedp.Do(d.ctx, actions...); err != nil {
		d.t.Fatal(err)
	}
}

// evaluate gives the text that an expression comes to in the page.
func (d deskTab) evaluate(expression string) string {
	d.t.Helper()
	v, err := chromedp.Run(d.ctx, chromedp.Evaluate[string]("String("+expression+")"))
	if err != nil {
		d.t.Fatal(err)
	}
	return v
}

// press presses a link or button by its words and waits for the page it leads to.
func (d deskTab) press(words string) {
	d.t.Helper()
	script := `(() => { window.desk_before = true; const all = [...document.querySelectorAll('a, button, summary')]; const e = all.find((e) => e.textContent.trim().startsWith(` + "`" + words + "`" + `) && e.offsetParent); if (!e) return 'there is no ' + ` + "`" + words + "`" + `; e.click(); return e.tagName + (e.type || ''); })()`
	got := d.evaluate(script)
	if strings.HasPrefix(got, "there is no") {
		d.t.Fatal(got + " on " + d.evaluate("location.pathname"))
	}
	if got != "SUMMARY" && got != "BUTTONbutton" {
		d.settled()
	}
}

// settled waits until another page than the one marked by press is whole.
func (d deskTab) settled() {
	d.t.Helper()
	for until := time.Now().Add(20 * time.Second); time.Now().Before(until); time.Sleep(20 * time.Millisecond) {
		if v, err := chromedp.Run(d.ctx, chromedp.Evaluate[bool]("!window.desk_before && document.readyState === 'complete'")); err == nil && v {
			return
		}
	}
	d.t.Fatal("no other page came")
}

// fill types into the box of a path, key by key.
func (d deskTab) fill(path, text string) {
	d.t.Helper()
	d.run(chromedp.SendKeys(`form[data-check] [name="`+path+`"]`, text))
}

func (d deskTab) read(file string) string {
	d.t.Helper()
	data, err := os.ReadFile(filepath.Join(d.folder, filepath.FromSlash(file)))
	if err != nil {
		d.t.Fatal(err)
	}
	return string(data)
}

// picture keeps a picture of the page where YEARMARK_LOOK names a folder.
func (d deskTab) picture(name string, width int64) {
	d.t.Helper()
	folder := os.Getenv("YEARMARK_LOOK")
	if folder == "" {
		return
	}
	shot, err := chromedp.Run(d.ctx, chromedp.FullScreenshot(100))
	if err == nil {
		err = os.WriteFile(filepath.Join(folder, name), shot, 0o644)
	}
	if err != nil {
		d.t.Error(err)
	}
}

// copyOfContent is a copy of the demonstration.
func copyOfContent(t *testing.T) string {
	t.Helper()
	folder := filepath.Join(t.TempDir(), "register")
	if err := os.CopyFS(folder, os.DirFS(filepath.Join(need.Root(t), "content"))); err != nil {
		t.Fatal(err)
	}
	return folder
}

// TestARecordIsChangedInTheBrowser changes one claim's years in plain words,
// sees them read out, saves, and takes the change back: the file's own bytes
// stand again.
func TestARecordIsChangedInTheBrowser(t *testing.T) {
	need.Chromium(t)
	d := openDesk(t, copyOfContent(t))
	d.picture("desk-home.png", 1280)
	before := d.read("models/plover.md")
	d.press("Models")
	d.press("Plover")
	d.picture("desk-plover.png", 1280)
	d.evaluate(`document.querySelector('[name="made/span"]').value = ''`)
	d.fill("made/span", "1958 to about 1971")
	if got := d.await(`[data-reading="made/span"]`, "= 1958 to about 1971"); got != "= 1958 to about 1971" {
		t.Errorf("the years are read out as %q", got)
	}
	d.press("Save")
	after := d.read("models/plover.md")
	if want := strings.Replace(before, "made: {span: 1958/1971,", "made: {span: 1958/1971~,", 1); after != want {
		t.Errorf("the file is not what one change makes of it:\n%s", regexp.MustCompile(`(?m)^made:.*$`).FindString(after))
	}
	d.press("Take back")
	if d.read("models/plover.md") != before {
		t.Error("the change is not taken back byte for byte")
	}
}

// await gives the text of an element once it is the one wanted, or what it is
// after ten seconds.
func (d deskTab) await(selector, want string) (got string) {
	d.t.Helper()
	for until := time.Now().Add(10 * time.Second); got != want && time.Now().Before(until); time.Sleep(20 * time.Millisecond) {
		got = d.evaluate("document.querySelector('" + selector + "').textContent.trim()")
	}
	return got
}

// awaitTrue waits until an expression holds.
func (d deskTab) awaitTrue(expression string) {
	d.t.Helper()
	for until := time.Now().Add(10 * time.Second); time.Now().Before(until); time.Sleep(20 * time.Millisecond) {
		if d.evaluate(expression) == "true" {
			return
		}
	}
	d.t.Fatalf("%s does not come true: %s", expression, d.evaluate("document.querySelector('main').innerText.slice(0, 400)"))
}

// TestTheDeskIsAccessible holds every kind of page of the desk against axe-core
// (WCAG 2.0 to 2.2, A and AA, and best practices), at the width of a telephone
// and of a desk, in the light and in the dark; nothing runs over the edge.
func TestTheDeskIsAccessible(t *testing.T) {
	axe, err := os.ReadFile(filepath.Join(need.Npm(t, "axe-core"), "node_modules", "axe-core", "axe.min.js"))
	if err != nil {
		t.Fatal(err)
	}
	folder := copyOfContent(t)
	for name, text := range map[string]string{
		"inbox/2026-04-02-known.json":                `{"yearmark":"knowledge","version":1,"reference":"r","edition":"e","on":"2026-04-02","about":"models/plover.html#script-mark","stance":"agrees","knows":"My father stamped them.","by":"P. Sorrel"}`,
		"inbox/pictures/2026-04-02-known-letter.svg": `<svg xmlns="http://www.w3.org/2000/svg" width="80" height="60"><rect width="80" height="60"/></svg>`,
	} {
		at := filepath.Join(folder, filepath.FromSlash(name))
		if err := os.MkdirAll(filepath.Dir(at), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(at, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	d := openDesk(t, folder)
	base := d.evaluate("location.href")
	for _, way := range []string{"inbox", "inbox/2026-04-02-known.json", "", "records/source", "findings", "edit/settings/register", "publish", "start", "edit/model/plover", "edit/source/halvane-list-1965", "edit/example/0007", "edit/feature/riser-wood", "edit/maker/halvane", "new/page", "remove/model/plover"} {
		for _, at := range []struct {
			width int64
			dark  string
		}{{390, "light"}, {1280, "light"}, {390, "dark"}} {
			if _, err := chromedp.Call(d.ctx, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Features: []*emulation.MediaFeature{{Name: "prefers-color-scheme", Value: at.dark}}}); err != nil {
				t.Fatal(err)
			}
			d.run(chromedp.EmulateViewport(at.width, 844), chromedp.Navigate(base+way))
			if over := d.evaluate("document.documentElement.scrollWidth - document.documentElement.clientWidth"); over != "0" {
				t.Errorf("%q at %d: %s pixels over the edge", way, at.width, over)
			}
			if _, err := chromedp.Run(d.ctx, chromedp.Evaluate[int](string(axe)+";0")); err != nil {
				t.Fatal(err)
			}
			found, err := chromedp.Run(d.ctx, chromedp.Evaluate[string](`axe.run(document, {resultTypes: ["violations"], runOnly: ["wcag2a","wcag2aa","wcag21a","wcag21aa","wcag22aa","best-practice"]}).then(r => r.violations.map(v => v.id + ": " + v.nodes.slice(0, 2).map(n => n.html.slice(0, 160)).join(" | ")).join("\n"))`, chromedp.EvalAwaitPromise))
			if err != nil || found != "" {
				t.Errorf("%q at %d, %s: %s %v", way, at.width, at.dark, found, err)
			}
			d.picture(fmt.Sprintf("desk-%s-%d-%s.png", strings.ReplaceAll(way, "/", "-"), at.width, at.dark), at.width)
		}
	}
}

// TestARegisterIsBegunInTheBrowser starts without a register, begins an empty
// one, and comes back to it from the list of those opened before.
func TestARegisterIsBegunInTheBrowser(t *testing.T) {
	need.Chromium(t)
	place := t.TempDir()
	t.Setenv("HOME", place)
	d := openDesk(t, "")
	d.picture("desk-start.png", 1280)
	d.run(chromedp.SendKeys(`#Folder`, "bows of the club"))
	d.press("Begin empty")
	if got := d.evaluate("document.querySelector('h1').textContent"); got != "Desk" {
		t.Fatalf("after beginning stands %q: %s", got, d.evaluate("document.body.innerText.slice(0, 400)"))
	}
	d.folder = filepath.Join(place, "bows of the club")
	if text := d.read("reference.yaml"); !strings.Contains(text, "years:") {
		t.Errorf("the register begins as %q", text)
	}
	d.press("Settings")
	d.evaluate(`document.querySelector('[name="name"]').value = 'Bows of the club'`)
	d.press("Save")
	if text := d.read("reference.yaml"); !strings.Contains(text, "name: Bows of the club\nyears: 1900/1999            # the years") {
		t.Errorf("the settings are saved as %q", text)
	}
	d.press("Another register")
	d.press(d.folder)
	if got := d.evaluate("document.querySelector('.nameplate').textContent.trim()"); got != "Bows of the club" {
		t.Errorf("opened again it is %q", got)
	}
}
