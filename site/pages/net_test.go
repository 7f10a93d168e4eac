package pages_test

import (
	"net/http"
	"net/http/httptest"
	"net/http/httputil"
	"net/url"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"sync/atomic"
	"testing"
)

// flaky is a host between a browser and the site that drops the connection of
// whoever asks for a file whose address matches.
type flaky struct {
	dropped atomic.Pointer[regexp.Regexp] // nil: none is dropped
	asked   atomic.Int64                  // how often such a file was asked for
}

func (f *flaky) drop(pattern string) { f.dropped.Store(regexp.MustCompile(pattern)) }

// openFlaky opens a browser on a site behind a flaky host. What the browser
// says of dropped connections is no trouble.
func openFlaky(t *testing.T) (*browser, *flaky) {
	t.Helper()
	base, err := url.Parse(serve(t, demonstration(t)))
	if err != nil {
		t.Fatal(err)
	}
	f, site := &flaky{}, httputil.NewSingleHostReverseProxy(base)
	server := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if dropped := f.dropped.Load(); dropped != nil && dropped.MatchString(r.URL.Path) {
			f.asked.Add(1)
			panic(http.ErrAbortHandler)
		}
		w.Header().Set("Cache-Control", "no-store")
		site.ServeHTTP(w, r)
	}))
	t.Cleanup(server.Close)
	b := openBrowserAt(t, server.URL+"/")
	b.impatient = true
	t.Cleanup(func() {
		b.mu.Lock()
		defer b.mu.Unlock()
		b.trouble = slices.DeleteFunc(b.trouble, func(words string) bool { return strings.Contains(words, "net::ERR_") })
	})
	return b, f
}

// failed says in the page's own terms that a load failed, and what to do.
const failed = `document.querySelector(".attempt:not([hidden]) button")`

// mend puts the host right and presses the button; what is then true is awaited.
func (f *flaky) mend(b *browser, want string) {
	b.t.Helper()
	b.await(failed)
	if words := evaluate[string](b, `document.querySelector(".attempt").textContent`); !strings.HasPrefix(words, "A file did not arrive.") || !strings.HasSuffix(words, "Try again") {
		b.t.Errorf("the page says %q", words)
	}
	if f.asked.Swap(0) == 0 {
		b.t.Errorf("nothing was dropped")
	}
	f.dropped.Store(nil)
	evaluate[any](b, failed+`.click(); null`)
	b.await(want)
	b.await(`!` + failed)
}

// TestEveryLoadCanBeTriedAgain drops each kind of file that the form and the
// search load. The page says so, and its button mends it without a new page.
func TestEveryLoadCanBeTriedAgain(t *testing.T) {
	b, f := openFlaky(t)
	const hits = `document.querySelectorAll(".hit").length > 0`
	for _, c := range []struct{ page, drops, want string }{
		{"date.html", "/manifest", ready},
		{"date.html", "/header-", ready},
		{"date.html#model=plover&riser-wood=padauk", "/features-", ready},
		{"date.html#model=plover&riser-wood=padauk", "/claims-", `!document.querySelector(".js-sheet").hidden`},
		{"search.html", "/root", `!document.querySelector(".js-search").hidden`},
		{"search.html#words=padauk", `/t\d+\.js$`, hits},
		{"search.html#words=padauk", `/d\d+\.js$`, hits},
		{"search.html#words=padaok", `/w\d+\.js$`, hits},
		{"search.html#words=%22oval+mark%22", `/p\d+\.js$`, hits},
		{"search.html#has=riser-wood%3Dpadauk", `/c\d+\.js$`, hits},
	} {
		t.Run(c.page+" without "+c.drops, func(t *testing.T) {
			b.t = t
			f.drop(c.drops)
			b.visit(c.page, 390, "light")
			f.mend(b, c.want)
		})
	}
	b.t = t
	b.staysHome()
}

// TestTheAddressMovesWithThePage taps and types while the net is gone: the
// address stays with what is shown, and both follow once the files come.
func TestTheAddressMovesWithThePage(t *testing.T) {
	b, f := openFlaky(t)
	b.visit("date.html#model=plover", 390, "light")
	b.await(`!document.querySelector(".js-sheet").hidden`)
	before := evaluate[string](b, `location.href + document.querySelector("#Question").textContent`)
	f.drop("/data/")
	evaluate[any](b, `[...document.querySelectorAll(".js-question .others li")].filter(li => !/ tells /.test(li.textContent)).at(-1).querySelector("button").click(); null`)
	b.await(failed)
	if after := evaluate[string](b, `location.href + document.querySelector("#Question").textContent`); after != before {
		t.Errorf("%s became %s without its tables", before, after)
	}
	f.mend(b, `location.hash.includes("ask=") && location.href + document.querySelector("#Question").textContent !== `+quote(before))

	b.visit("search.html", 390, "light")
	b.await(`document.activeElement.matches(".js-words")`)
	f.drop("/data/")
	b.keys("padauk")
	b.await(failed)
	if hash := evaluate[string](b, `location.hash`); hash != "" {
		t.Errorf("the address says %s, and nothing is found yet", hash)
	}
	f.mend(b, `location.hash === "#words=padauk" && document.querySelectorAll(".hit").length > 0`)
}

// TestWorksFromAFolder opens the published files from a disk, without a host:
// the form answers and the search finds.
func TestWorksFromAFolder(t *testing.T) {
	site, folder := demonstration(t), t.TempDir()
	for _, path := range site.Paths() {
		data, err := site.Render(path)
		if err != nil {
			t.Fatal(err)
		}
		if err := write(filepath.Join(folder, filepath.FromSlash(path)), data); err != nil {
			t.Fatal(err)
		}
	}
	b := openBrowserAt(t, "file://"+filepath.ToSlash(folder)+"/")
	b.visit("date.html#model=plover&riser-wood=padauk", 390, "light")
	b.await(`!document.querySelector(".js-sheet").hidden`)
	b.visit("search.html#words=padauk", 390, "light")
	b.await(`document.querySelectorAll(".hit").length > 0`)
	b.visit("my-bows.html", 390, "light")
	b.await(`document.querySelector(".js-bows-list a") && document.querySelector(".js-bows-local").offsetParent`) // others can read it
	b.visit("offline.html", 390, "light")
	b.await(`document.querySelector(".js-kept-said").textContent.includes("lies in a folder")`)
	b.staysHome()
}

// TestFewRequests counts what a first visit asks for until the form can be
// tapped and until the search finds: on a slow phone each request costs a
// journey of its own. Pictures are fetched later and left aside.
func TestFewRequests(t *testing.T) {
	for _, c := range []struct {
		page, shown string
		most        int
	}{
		{"date.html", ready, 12},
		{"search.html#words=padauk", `document.querySelector(".hit")`, 12},
	} {
		b := openBrowser(t, demonstration(t))
		b.impatient = true
		b.visit(c.page, 390, "light")
		b.await(c.shown)
		b.mu.Lock()
		var asked []string
		for _, address := range b.asked {
			if path, ours := strings.CutPrefix(address, b.base); ours && !strings.HasPrefix(path, "pictures/") {
				asked = append(asked, path)
			}
		}
		b.mu.Unlock()
		if len(asked) < 5 || len(asked) > c.most {
			t.Errorf("%s takes %d requests, want at most %d: %s", c.page, len(asked), c.most, asked)
		}
	}
}
