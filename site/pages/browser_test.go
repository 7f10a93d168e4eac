package pages_test

import (
	"context"
	"encoding/json"
	"fmt"
	"io/fs"
	"mime"
	"net/http"
	"net/http/httptest"
	"os"
	"path"
	"path/filepath"
	"strconv"
	"strings"
	"sync"
	"testing"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/log"
	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"

	"yearmark/site/charts"
	"yearmark/site/pages"
	"yearmark/testdata/chromium"
)

// browser is a Chromium that looks at a served site and remembers what it asked for.
type browser struct {
	t    testing.TB
	ctx  context.Context
	base string

	impatient bool // visits do not wait for what scripts show

	mu      sync.Mutex
	asked   []string
	trouble []string // what the console was told: errors, refusals of the policy
}

// serve hands the site out as a plain host of files would.
func serve(t testing.TB, site *pages.Site) string {
	server := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		name := strings.TrimPrefix(r.URL.Path, "/")
		if name == "" {
			name = "index.html"
		}
		data, err := site.Render(name)
		if err != nil {
			status := http.StatusInternalServerError
			if _, ok := err.(interface{ Unwrap() error }); ok && strings.Contains(err.Error(), fs.ErrNotExist.Error()) {
				status = http.StatusNotFound
			}
			http.Error(w, err.Error(), status)
			return
		}
		w.Header().Set("Content-Type", mime.TypeByExtension(path.Ext(name)))
		_, _ = w.Write(data)
	}))
	t.Cleanup(server.Close)
	return server.URL + "/"
}

func openBrowser(t testing.TB, site *pages.Site) *browser {
	t.Helper()
	return openBrowserAt(t, serve(t, site))
}

func openBrowserAt(t testing.TB, base string) *browser {
	t.Helper()
	b := &browser{t: t, base: base}
	b.ctx = chromium.Tab(t, chromedp.WithListener(b.listen))
	call(b, network.Enable, network.EnableParams{})
	call(b, runtime.Enable, cdp.Empty{})
	call(b, log.Enable, cdp.Empty{})
	t.Cleanup(func() {
		for _, trouble := range b.trouble {
			t.Errorf("the browser says: %s", trouble)
		}
	})
	return b
}

// listen remembers every address that pages ask for, and every trouble.
func (b *browser) listen(event any) {
	b.mu.Lock()
	defer b.mu.Unlock()
	switch e := event.(type) {
	case *network.EventRequestWillBeSent:
		b.asked = append(b.asked, e.Request.URL)
	case *runtime.EventExceptionThrown:
		b.trouble = append(b.trouble, e.ExceptionDetails.Text+" "+e.ExceptionDetails.Exception.Description)
	case *log.EventEntryAdded:
		if e.Entry.Level == log.EntryLevelError {
			b.trouble = append(b.trouble, e.Entry.Text+" "+e.Entry.URL)
		}
	}
}

// call runs a command of the browser's protocol.
func call[P, R any](b *browser, command cdp.Command[P, R], params P) R {
	b.t.Helper()
	r, err := chromedp.Call(b.ctx, command, params)
	if err != nil {
		b.t.Fatal(err)
	}
	return r
}

// do runs actions, and ends the test where one fails.
func do(b *browser, actions ...chromedp.Action[chromedp.Void]) {
	b.t.Helper()
	if err := chromedp.Do(b.ctx, actions...); err != nil {
		b.t.Fatal(err)
	}
}

// evaluate runs an expression in the page and gives its value.
func evaluate[T any](b *browser, expression string) T {
	b.t.Helper()
	v, err := chromedp.Run(b.ctx, chromedp.Evaluate[T](expression, chromedp.EvalAwaitPromise))
	if err != nil {
		b.t.Fatalf("%s: %v", expression, err)
	}
	return v
}

// visit opens a page of the site at a width, in the light or in the dark.
func (b *browser) visit(path string, width int64, scheme string) {
	b.t.Helper()
	address := b.base + path
	if path == "about:blank" {
		address = path
	}
	call(b, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{
		Features: []*emulation.MediaFeature{{Name: "prefers-color-scheme", Value: scheme}},
	})
	do(b, chromedp.EmulateViewport(width, 900))
	if strings.Contains(path, "#") {
		do(b, chromedp.Navigate("about:blank")) // else only the part after # would change
	}
	do(b, chromedp.Navigate(address))
	if b.impatient {
		return
	}
	switch {
	case strings.HasPrefix(path, "date.html"):
		b.await(ready)
	case strings.HasPrefix(path, "search.html"):
		b.await(`!document.querySelector(".js-search").hidden && document.querySelector(".js-summary").textContent !== ""`)
	}
}

// picture keeps a picture of the whole page below the folder that
// YEARMARK_LOOK names, for people to look at.
func (b *browser) picture(name string) {
	folder := os.Getenv("YEARMARK_LOOK")
	if folder == "" {
		return
	}
	shot, err := chromedp.Run(b.ctx, chromedp.FullScreenshot(100))
	if err == nil {
		err = write(filepath.Join(folder+"-pictures", name), shot)
	}
	if err != nil {
		b.t.Fatal(err)
	}
}

// kinds names one page of every kind of the demonstration.
var kinds = []string{
	"index.html", "makers/index.html", "makers/halvane.html", "models/index.html", "models/plover.html",
	"features/index.html", "features/riser-wood.html", "features/brace-height.html", "sources/index.html", "sources/halvane-list-1964.html",
	"examples/index.html", "census.html", "examples/0007.html", "pages/index.html", "pages/cautions.html",
	"date.html", "date.html#model=plover&riser-wood=padauk&limb-glass=black", "search.html", "search.html#words=plover&has=riser-wood%3Dpadauk", "open-questions.html", "odds.html", "checks.html", "data.html", "editions.html",
	"offline.html", "offline.html#missing=models%2Fplover.html", "my-bows.html",
}

// inEveryLight calls look for every page kind, width and colour scheme, in one
// browser for each width, side by side.
func inEveryLight(t *testing.T, look func(b *browser, name string)) {
	site := demonstration(t)
	for _, width := range []int64{390, 1280} {
		t.Run(strconv.FormatInt(width, 10), func(t *testing.T) {
			t.Parallel()
			b := openBrowser(t, site)
			for _, path := range kinds {
				for _, scheme := range []string{"light", "dark"} {
					name := fmt.Sprintf("%s-%d-%s", inFileName.Replace(path), width, scheme)
					t.Run(name, func(t *testing.T) {
						b.t = t
						b.visit(path, width, scheme)
						look(b, name)
					})
				}
			}
			b.t = t
			b.staysHome()
		})
	}
}

// inFileName makes a file's name of an address.
var inFileName = strings.NewReplacer("/", "-", ".html", "", "#", "-with-", "=", "-", "&", "-", "%3D", "-")

// staysHome fails where a page asked for anything outside the site.
func (b *browser) staysHome() {
	b.t.Helper()
	b.mu.Lock()
	defer b.mu.Unlock()
	for _, address := range b.asked {
		if !strings.HasPrefix(address, b.base) && !strings.HasPrefix(address, "about:") {
			b.t.Errorf("a page asked for %s, outside the site", address)
		}
	}
}

// await waits until an expression in the page is true.
func (b *browser) await(expression string) {
	b.t.Helper()
	ok := evaluate[bool](b, `new Promise(done => { const end = Date.now() + 20000; (function look() {
		let yes = false; try { yes = Boolean(`+expression+`) } catch {}
		if (yes || Date.now() > end) done(yes); else setTimeout(look, 20); })() })`)
	if !ok {
		b.t.Fatalf("never came true: %s", expression)
	}
}

// keys types as a keyboard does.
func (b *browser) keys(text string) {
	b.t.Helper()
	do(b, chromedp.KeyEvent(text))
}

func quote(s string) string {
	data, err := json.Marshal(s)
	if err != nil {
		panic(err) // no text fails to encode
	}
	return string(data)
}

func number(n int) string { return strconv.Itoa(n) }

func percent(chance float64) string { return charts.Percent(chance) }

// print gives the page as it would be printed on A4.
func (b *browser) print() []byte {
	b.t.Helper()
	byStyle := true
	return call(b, page.PrintToPDF, page.PrintToPDFParams{PaperWidth: 8.27, PaperHeight: 11.69, PreferCSSPageSize: &byStyle}).Data
}

// keep writes a file below the folder that YEARMARK_LOOK names.
func (b *browser) keep(name string, data []byte) {
	if folder := os.Getenv("YEARMARK_LOOK"); folder != "" {
		if err := write(filepath.Join(folder+"-pictures", name), data); err != nil {
			b.t.Fatal(err)
		}
	}
}
