package preview

import (
	"context"
	"maps"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/chromedp"

	"yearmark/testdata/need"
)

// written is a page as the site writes it.
func written(title, class, head, words string) string {
	return `<!doctype html><html lang="en"` + class + `><head><meta charset="utf-8"><meta http-equiv="Content-Security-Policy" content="script-src 'self'"><title>` +
		title + `</title><link rel="stylesheet" href="a.css"><link rel="icon" href="a.svg">` + head + `</head><body><p id="words">` + words + `</p></body></html>`
}

// TestABrowserFollowsEveryState shows one state after another to a real
// Chromium: the document is that of the state, whether it took the place of
// the one before or was loaded anew, which it is only where it must be.
func TestABrowserFollowsEveryState(t *testing.T) {
	s, h := testServer(t)
	site := pagesOf{"index.html": written("One", "", "", "first"), "a.css": "p { color: red }", "a.svg": "<svg/>", "js/open.js": "", "js/find.js": ""}
	s.Show(site)
	options := append(chromedp.DefaultExecAllocatorOptions[:], chromedp.NoSandbox, chromedp.ExecPath(need.Chromium(t)), chromedp.DisableGPU)
	allocator, stop := chromedp.NewExecAllocator(context.Background(), options...)
	defer stop()
	tab, closeTab := chromedp.NewContext(allocator)
	defer closeTab()
	evaluate := func(text string) string {
		// While a page is loaded anew there may be nothing to ask.
		v, _ := chromedp.Run(tab, chromedp.Evaluate[string]("(async () => {"+text+"})()", chromedp.EvalAwaitPromise))
		return v
	}
	visit := func(address string) {
		t.Helper()
		if err := chromedp.Do(tab, chromedp.Navigate(address)); err != nil {
			t.Fatal(err)
		}
	}
	visit(h.URL + "/")
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
		{"a script's state in the fragment", written("Two", "", "", "eleventh and a half"), func() { visit(h.URL + "/#model=plover") }, false},
		{"seen through a fragment", written("Two", "", "", "twelfth"), func() { visit(h.URL + "/#words") }, true},
	} {
		if c.before != nil {
			c.before()
		}
		evaluate(`window.stayed = true; return ""`)
		now := maps.Clone(site)
		now["index.html"] = c.page
		s.Show(now)
		const same = `
			const parts = new DOMParser().parseFromString(await (await fetch(location.href)).text(), "text/html");
			const here = document.documentElement.cloneNode(true);
			here.querySelector("script[src^='/-preview/']")?.remove();
			return here.outerHTML === parts.documentElement.outerHTML ? "same" : here.outerHTML;`
		got := ""
		for until := time.Now().Add(10 * time.Second); got != "same" && time.Now().Before(until); time.Sleep(20 * time.Millisecond) {
			got = evaluate(same)
		}
		if got != "same" {
			t.Fatalf("%s: the document is\n%s", c.name, got)
		}
		if anew := evaluate(`return String(window.stayed !== true)`) == "true"; anew != c.anew {
			t.Errorf("%s: loaded anew is %v", c.name, anew)
		}
	}
	s.Tell("The records hold 1 error.", "findings")
	words := ""
	for until := time.Now().Add(10 * time.Second); words == "" && time.Now().Before(until); time.Sleep(20 * time.Millisecond) {
		words = evaluate(`return document.querySelector(".js-preview-trouble")?.textContent ?? ""`)
	}
	if !strings.Contains(words, "1 error") {
		t.Errorf("the page says of its errors %q", words)
	}
}
