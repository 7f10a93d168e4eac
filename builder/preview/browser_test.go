package preview

import (
	"context"
	"maps"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/chromedp"

	"yearmark/testdata/chromium"
)

// written is a page as the site writes it.
func written(title, class, head, words string) string {
	return `<!doctype html><html lang="en"` + class + `><head><meta charset="utf-8"><meta http-equiv="Content-Security-Policy" content="script-src 'self'"><title>` +
		title + `</title><link rel="stylesheet" href="a.css"><link rel="icon" href="a.svg">` + head + `</head><body><p id="words">` + words + `</p></body></html>`
}

// tab is a tab of a real Chromium.
type tab struct {
	t   *testing.T
	ctx context.Context
}

func openTab(t *testing.T) tab {
	t.Helper()
	return tab{t, chromium.Tab(t)}
}

func (b tab) visit(address string) {
	b.t.Helper()
	if err := chromedp.Do(b.ctx, chromedp.Navigate(address)); err != nil {
		b.t.Fatal(err)
	}
}

// evaluate runs the body of a function in the page and gives what it returns,
// or nothing: while a page is loaded anew there may be nothing to ask.
func (b tab) evaluate(text string) string {
	v, _ := chromedp.Run(b.ctx, chromedp.Evaluate[string]("(async () => {"+text+"})()", chromedp.EvalAwaitPromise))
	return v
}

// await evaluates until the answer is the one wanted, and gives the last.
func (b tab) await(text, want string) (got string) {
	for until := time.Now().Add(10 * time.Second); got != want && time.Now().Before(until); time.Sleep(20 * time.Millisecond) {
		got = b.evaluate(text)
	}
	return got
}

// TestABrowserFollowsEveryState shows one state after another to a real
// Chromium: the document is that of the state, whether it took the place of
// the one before or was loaded anew, which it is only where it must be.
func TestABrowserFollowsEveryState(t *testing.T) {
	s, h := testServer(t)
	site := pagesOf{"index.html": written("One", "", "", "first"), "a.css": "p { color: red }", "a.svg": "<svg/>", "js/open.js": "", "js/find.js": ""}
	s.Show(site)
	tab := openTab(t)
	tab.visit(h.URL + "/")
	const open, find = `<script type="module" src="js/open.js"></script>`, `<script type="module" src="js/find.js"></script>`
	for _, c := range []struct {
		name, page string
		before     func()
		anew       bool
	}{
		{"other words", written("One", "", "", "second"), nil, false},
		{"another title and class", written("Two", ` class="wide"`, `<meta name="description" content="x">`, "third"), nil, false},
		{"no class again", written("Two", "", "", "fourth"), nil, false},
		{"a script more", written("Two", "", open, "fifth"), nil, true},
		{"a script that hears of it", written("Two", "", open, "sixth"), nil, false},
		{"a script that does not", written("Two", "", open+find, "seventh"), nil, true},
		{"the same script", written("Two", "", open+find, "eighth"), nil, true},
		{"no script again", written("Two", "", "", "ninth"), nil, true},
		{"other pictures", written("Two", "", "", "tenth"), s.PicturesChange, true},
		{"announced", written("Two", "", "", "eleventh"), s.Coming, false},
		{"a script's state in the fragment", written("Two", "", "", "eleventh and a half"), func() { tab.visit(h.URL + "/#model=plover") }, false},
		{"seen through a fragment", written("Two", "", "", "twelfth"), func() { tab.visit(h.URL + "/#words") }, true},
	} {
		if c.before != nil {
			c.before()
		}
		tab.evaluate(`window.stayed = true; return ""`)
		now := maps.Clone(site)
		now["index.html"] = c.page
		s.Show(now)
		const same = `
			const parts = new DOMParser().parseFromString(await (await fetch(location.href)).text(), "text/html");
			const here = document.documentElement.cloneNode(true);
			here.querySelector("script[src^='/-preview/']")?.remove();
			return here.outerHTML === parts.documentElement.outerHTML ? "same" : here.outerHTML;`
		if got := tab.await(same, "same"); got != "same" {
			t.Fatalf("%s: the document is\n%s", c.name, got)
		}
		if anew := tab.evaluate(`return String(window.stayed !== true)`) == "true"; anew != c.anew {
			t.Errorf("%s: loaded anew is %v", c.name, anew)
		}
	}
	s.Announce("The records hold 1 error.", "findings")
	words := ""
	for until := time.Now().Add(10 * time.Second); words == "" && time.Now().Before(until); time.Sleep(20 * time.Millisecond) {
		words = tab.evaluate(`return document.querySelector(".js-preview-trouble")?.textContent ?? ""`)
	}
	if !strings.Contains(words, "1 error") {
		t.Errorf("the page says of its errors %q", words)
	}
}

// TestWhatIsOpenStaysOpen opens and shuts parts of a page that is then renewed:
// they are as the reader left them, whatever a script of the page does, and
// what is new is as it was written.
func TestWhatIsOpenStaysOpen(t *testing.T) {
	s, h := testServer(t)
	site := pagesOf{"a.css": "", "a.svg": "<svg/>", "js/open.js": `addEventListener("renewed", () => { for (const d of document.querySelectorAll("details")) d.open = false; });`}
	show := func(words string) {
		now := maps.Clone(site)
		now["index.html"] = written("One", "", `<script type="module" src="js/open.js"></script>`, words)
		s.Show(now)
	}
	const proof = `<details class="proof"><summary>1 witness</summary></details>`
	show(`first</p><ul><li id="a">` + proof + proof + `</li><li id="b"><details open class="proof"></details></li></ul><p>`)
	tab := openTab(t)
	tab.visit(h.URL + "/")
	const state = `return document.querySelector("p").textContent + " " + Array.from(document.querySelectorAll("details"), (d) => Number(d.open)).join("")`
	if got := tab.await(state, "first 001"); got != "first 001" {
		t.Fatalf("at first: %s", got)
	}
	tab.evaluate(`window.stayed = true; for (const d of document.querySelectorAll("details")) d.open = !d.open; document.querySelector("#a details").open = false; return ""`)
	show(`second</p><ul><li id="new">` + proof + `</li><li id="a">` + proof + `<details class="proof"><summary>2 witnesses</summary></details></li><li id="b"><details open class="proof"></details></li></ul><p>`)
	const want = "second 0010"
	if got := tab.await(state, want); got != want {
		t.Errorf("renewed: %s, want %s", got, want)
	}
	if tab.evaluate(`return String(window.stayed === true)`) != "true" {
		t.Error("the page was loaded anew")
	}
}
