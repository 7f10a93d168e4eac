package builder_test

import (
	"context"
	"encoding/json"
	"fmt"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"sync"
	"testing"

	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"

	"yearmark/builder"
	"yearmark/testdata/chromium"
	"yearmark/testdata/need"
)

// editions publishes the demonstration once, first as it is and then with
// another year in it, and gives the two folders.
var editions = sync.OnceValues(func() ([2]string, error) {
	var sites [2]string
	top, err := os.MkdirTemp("", "editions")
	if err != nil {
		return sites, err
	}
	builder.AtEnd = append(builder.AtEnd, func() { _ = os.RemoveAll(top) })
	root, err := filepath.Abs("..")
	if err != nil {
		return sites, err
	}
	for i, change := range []*strings.Replacer{
		strings.NewReplacer("maker: halvane\n", "maker: halvane\nformerly: [plover-bow]\n"),
		strings.NewReplacer("maker: halvane\n", "maker: halvane\nformerly: [plover-bow]\n", "value: black, span: 1967/1971", "value: black, span: 1968/1971"),
	} {
		folder := filepath.Join(top, fmt.Sprint("records-", i))
		sites[i] = filepath.Join(top, fmt.Sprint("site-", i))
		if err := os.CopyFS(folder, os.DirFS(filepath.Join(root, "content"))); err != nil {
			return sites, err
		}
		plover := filepath.Join(folder, "models", "plover.md")
		text, err := os.ReadFile(plover)
		if err != nil {
			return sites, err
		}
		if err := os.WriteFile(plover, []byte(change.Replace(string(text))), 0o600); err != nil {
			return sites, err
		}
		study, err := builder.Open(context.Background(), folder)
		if err != nil {
			return sites, err
		}
		if _, err := study.Publish(context.Background(), sites[i], func(int) {}); err != nil {
			return sites, err
		}
	}
	return sites, nil
})

// host hands out published folders by the path below which each lies, and may
// be cut off.
type host struct {
	mu      sync.Mutex
	folders map[string]string
	refuse  func(path string) bool // whose connection is dropped; nil: nobody's
}

func (h *host) put(below, folder string) { h.mu.Lock(); defer h.mu.Unlock(); h.folders[below] = folder }

// drop has connections dropped; everybody's where refuse is nil.
func (h *host) drop(refuse func(path string) bool) {
	h.mu.Lock()
	defer h.mu.Unlock()
	if h.refuse = refuse; refuse == nil {
		h.refuse = func(string) bool { return true }
	}
}

func (h *host) mend() { h.mu.Lock(); defer h.mu.Unlock(); h.refuse = nil }

func (h *host) ServeHTTP(w http.ResponseWriter, r *http.Request) {
	h.mu.Lock()
	below := ""
	for path := range h.folders {
		if strings.HasPrefix(r.URL.Path, path) && len(path) > len(below) {
			below = path
		}
	}
	folder, refused := h.folders[below], h.refuse != nil && h.refuse(r.URL.Path)
	h.mu.Unlock()
	if refused {
		panic(http.ErrAbortHandler)
	}
	if strings.HasSuffix(r.URL.Path, ".webmanifest") {
		w.Header().Set("Content-Type", "application/manifest+json")
	}
	w.Header().Set("Cache-Control", "max-age=600") // as hosts of pages have it
	r.Header.Del("If-Modified-Since")              // it counts in seconds, and both editions are of one
	http.StripPrefix(strings.TrimSuffix(below, "/"), http.FileServer(http.Dir(folder))).ServeHTTP(w, r)
}

// phone is a tab of a real Chromium on such a host.
type phone struct {
	t    *testing.T
	ctx  context.Context
	base string
	*host
}

func openPhone(t *testing.T) (phone, [2]string) {
	t.Helper()
	need.Chromium(t)
	sites, err := editions()
	if err != nil {
		t.Fatal(err)
	}
	h := &host{folders: map[string]string{"/": sites[0]}}
	server := httptest.NewServer(h)
	t.Cleanup(server.Close)
	return phone{t, chromium.Tab(t), server.URL + "/", h}, sites
}

// anotherTab is one more tab of the same browser.
func (p phone) anotherTab() phone {
	p.t.Helper()
	ctx, stop := chromedp.NewContext(p.ctx)
	p.t.Cleanup(stop)
	p.ctx = ctx
	return p
}

// visit opens an address, and gives up on none that the browser says of itself.
func (p phone) visit(path string) {
	p.t.Helper()
	if strings.Contains(path, "#") {
		_ = chromedp.Do(p.ctx, chromedp.Navigate("about:blank"))
	}
	_ = chromedp.Do(p.ctx, chromedp.Navigate(p.base+path))
}

func (p phone) eval(expression string) string {
	p.t.Helper()
	v, err := chromedp.Run(p.ctx, chromedp.Evaluate[string](`(async () => String(await (`+expression+`)))()`, chromedp.EvalAwaitPromise))
	if err != nil {
		p.t.Fatalf("%s: %v", expression, err)
	}
	return v
}

// touch evaluates an expression as if a finger had asked for it: browsers play nothing else.
func (p phone) touch(expression string) {
	p.t.Helper()
	byHand := func(e *runtime.EvaluateParams) { yes := true; e.UserGesture = &yes }
	if err := chromedp.Do(p.ctx, chromedp.Evaluate[chromedp.Void](expression, byHand)); err != nil {
		p.t.Fatalf("%s: %v", expression, err)
	}
}

// await waits until an expression in the page, or in the one that it leads to, is true.
func (p phone) await(expression string) {
	p.t.Helper()
	script := `new Promise(done => { const end = Date.now() + 3000; (async function look() {
		let yes = false; try { yes = Boolean(await (` + expression + `)) } catch {}
		if (yes || Date.now() > end) done(yes); else setTimeout(look, 20); })() })`
	for range 12 {
		if yes, err := chromedp.Run(p.ctx, chromedp.Evaluate[bool](script, chromedp.EvalAwaitPromise)); err == nil && yes {
			return
		}
	}
	p.t.Fatalf("never came true at %s: %s\n%.1500s", p.eval(`location.href`), expression, p.eval(`document.querySelector("main").innerText`))
}

// press presses the first button or link that says so.
func (p phone) press(words string) {
	p.t.Helper()
	find := `[...document.querySelectorAll("button, a[href], summary")].find(e => e.textContent.trim().startsWith(` + jsText(words) + `) && !e.disabled)`
	p.await(find)
	_ = chromedp.Do(p.ctx, chromedp.Evaluate[chromedp.Void](find+`.click()`)) // a page that it leads to may answer for it
}

func jsText(s string) string {
	data, err := json.Marshal(s)
	if err != nil {
		panic(err) // no text fails to encode
	}
	return string(data)
}

// Words in the page's own terms.
const (
	inCharge = `navigator.serviceWorker.controller && !(await navigator.serviceWorker.getRegistration()).installing`
	answered = `document.querySelector(".js-result .verdict")`
	missing  = `document.querySelector(".js-kept-said strong")?.textContent === "This page is not kept on this device."`
)

// TestAVisitKeepsTheFormAndTheSearch cuts the net after one visit, and walks on:
// page, form, answers, search, its results, source, recording, own bows. Each
// press is answered, if only by words that say what is not there.
func TestAVisitKeepsTheFormAndTheSearch(t *testing.T) {
	p, _ := openPhone(t)
	p.visit("models/plover.html")
	p.await(inCharge + ` && await caches.match(location.href)`) // it was opened before there was a worker
	if m, err := chromedp.Call(p.ctx, page.GetAppManifest, page.GetAppManifestParams{}); err != nil || len(m.Errors) > 0 || !strings.Contains(m.Data, "The Fellside Bow Register") {
		t.Errorf("the browser reads this manifest: %+v, %v", m, err)
	}
	p.visit("sources/recollection-tyson-2009.html")
	p.await(`(await caches.keys()).length === 1 && await caches.match(location.href)`)
	p.drop(nil)

	for _, c := range []struct{ path, want string }{
		{"", `document.querySelector("h1").textContent === "The Fellside Bow Register"`},
		{"models/plover.html#made", `document.querySelector("h1").textContent.includes("Plover")`},
		{"models/plover?from=a-list", `document.querySelector("h1").textContent.includes("Plover")`},
		{"models", missing + ` && document.body.textContent.includes("models/ was not opened")`},
		{"models/dotterel.html", missing},
		{"pages/cautions.html", `document.querySelector("h1").textContent === "Cautions"`},
		{"my-bows.html", `document.querySelector(".js-bows-list").textContent.startsWith("No bow is kept here yet")`},
		{"offline.html", `document.querySelector(".js-kept-parts li")?.textContent.includes("all ")`},
		{"search.html#words=padauk", `document.querySelectorAll(".hit").length > 0`},
		{"date.html#model=plover&riser-wood=padauk", answered},
	} {
		p.visit(c.path)
		p.await(c.want)
	}
	p.await(`document.querySelector(".js-question .tile img")?.naturalWidth > 0 || document.querySelector(".js-question #Written, .js-question .second")`)
	before := p.eval(`location.hash`)
	p.press("Change")
	p.await(`document.querySelector(".js-question .tile")`)
	p.eval(`(document.querySelector(".js-question .tile:not([aria-pressed=true])").click(), 0)`)
	p.await(`location.hash !== ` + jsText(before) + ` && ` + answered)
	p.press("Keep this bow on this device")
	keep := func() {
		p.eval(`([...document.querySelectorAll(".js-keep button")].find(b => b.textContent === "Keep this bow").click(), 0)`)
	}
	keep()
	p.await(`document.querySelector(".js-keep .trouble").textContent.startsWith("Give it a name")`)
	p.eval(`(document.querySelector(".js-keep input").value = "From the market", 0)`)
	keep()
	p.press("My bows")
	p.await(`document.querySelector(".bow h2").textContent === "From the market" && document.querySelectorAll(".then-now dd")[1].firstChild.textContent === document.querySelectorAll(".then-now dd")[0].firstChild.textContent`)

	p.visit("search.html#words=whinchat")
	p.await(`document.querySelector(".hit a")`)
	p.eval(`(document.querySelector(".hit a").click(), 0)`)
	p.await(missing)
	p.press("Go back")
	p.await(`location.pathname.endsWith("/search.html") && document.querySelector(".hit a")`)

	p.visit("sources/recollection-tyson-2009.html")
	p.await(`document.querySelector("audio")`)
	p.touch(`(document.querySelector("audio").play().catch(() => {}), 0)`)
	p.await(`document.querySelector(".js-unheard")`)
	p.eval(`(document.querySelector('main a[href*="dunlin"]').click(), 0)`)
	p.await(missing)
	p.eval(`window.before = true`)
	p.press("Try again")
	p.await(missing + ` && !window.before`)
	p.mend()
	p.press("Try again")
	p.await(`document.querySelector("h1") && !document.querySelector(".js-kept-said")`)
}

// TestOnePressKeepsTheWholeRegister breaks off the keeping and goes on, cuts the
// net and opens what was never opened, an old address and a recording that is
// wound; then it takes all of it away again.
func TestOnePressKeepsTheWholeRegister(t *testing.T) {
	p, _ := openPhone(t)
	p.visit("offline.html")
	p.await(`document.querySelectorAll(".js-kept-choices li").length === 3`)
	if words := p.eval(`document.querySelector(".js-kept-choices").innerText`); !regexp.MustCompile(`(?s)As text.*MB.*With drawings.*MB.*With photographs, scans and recordings.*MB`).MatchString(words) {
		t.Errorf("the sizes are not said before: %s", words)
	}
	last := func() {
		p.await(`[...document.querySelectorAll(".js-kept-choices button:not([disabled])")].length > 0 && !document.querySelector("progress")`)
		p.eval(`([...document.querySelectorAll(".js-kept-choices button")].at(-1).click(), 0)`)
	}
	p.drop(func(path string) bool { return strings.HasPrefix(path, "/sources/r") })
	last()
	p.await(`document.querySelector(".js-kept-progress").textContent.startsWith("It broke off")`)
	p.mend()
	here := p.eval(`(await caches.open((await caches.keys())[0]).then(c => c.keys())).length`)
	last()
	p.press("Stop")
	p.await(`/^(Stopped|All of it)/.test(document.querySelector(".js-kept-progress").textContent) && !document.querySelector(".js-kept-choices [disabled]")`)
	if now := p.eval(`(await caches.open((await caches.keys())[0]).then(c => c.keys())).length`); len(now) < len(here) || len(now) == len(here) && now < here {
		t.Errorf("%s copies became %s", here, now)
	}
	if p.eval(`document.querySelectorAll(".js-kept-choices button").length`) != "0" {
		last()
	}
	p.await(`document.querySelector(".js-kept-progress").textContent === "All of it is kept on this device."`)
	p.drop(nil)
	p.await(`await caches.match("data/claims.csv")`)
	for _, path := range []string{"models/dotterel.html", "examples/", "sources/index.html", "pictures/bows/plover.svg"} {
		p.visit(path)
		p.await(`location.pathname.endsWith(` + jsText(path) + `) && document.documentElement && !document.querySelector(".js-kept-said")`)
	}
	p.visit("models/plover-bow.html")
	p.press("Plover")
	p.await(`location.pathname.endsWith("/models/plover.html") && document.querySelector("h1").textContent.includes("Plover")`)
	p.visit("sources/recollection-tyson-2009.html")
	p.await(`document.querySelector("audio")`)
	got := p.eval(`new Promise((done, fail) => { const a = document.querySelector("audio"); a.preload = "auto"; a.load();
		a.addEventListener("error", () => done("error"));
		a.addEventListener("loadedmetadata", () => { a.currentTime = a.duration / 2; });
		a.addEventListener("seeked", () => done(a.currentTime > 0 && a.seekable.length === 1 && a.seekable.end(0) === a.duration)); })`)
	if got != "true" {
		t.Errorf("the recording is wound: %s", got)
	}
	if got := p.eval(`new Promise((done) => { const a = new Audio(document.querySelector("audio").src); a.addEventListener("loadedmetadata", () => done(a.duration > 1)); a.addEventListener("error", () => done("error")); })`); got != "true" {
		t.Errorf("the recording plays: %s", got)
	}
	p.visit("offline.html")
	p.press("Remove what is kept")
	p.await(`document.querySelector(".js-kept-progress").textContent.startsWith("All that was kept is gone") && (await caches.keys()).length === 0 && !(await navigator.serviceWorker.getRegistration())`)
	p.mend()
	p.visit("index.html")
	p.await(`document.readyState === "complete"`)
	if got := p.eval(`(await navigator.serviceWorker.getRegistrations()).length`); got != "0" {
		t.Error("what was removed is kept again without being asked for")
	}
}

// thisEdition gives the edition of the page.
const thisEdition = `document.querySelector(".js-edition").dataset.edition`

// TestANewerEditionIsOfferedAndNeverMixed swaps editions under open pages. They
// stay of theirs, to the last file, until the visitor presses; what they open
// anew that is gone leads on to the newer one with a word.
func TestANewerEditionIsOfferedAndNeverMixed(t *testing.T) {
	p, sites := openPhone(t)
	p.visit("date.html#model=plover&limb-glass=black")
	p.await(inCharge + ` && ` + answered)
	old, verdict := p.eval(thisEdition), p.eval(answered+`.textContent`)
	p.put("/", sites[1])
	other := p.anotherTab()
	other.visit("date.html#model=plover&limb-glass=black")
	other.await(answered)
	if got := other.eval(thisEdition); got != old {
		t.Fatalf("a page opened anew is of %s, kept is %s", got, old)
	}
	other.await(`document.querySelector(".footer .js-newer").textContent.startsWith("A newer edition is here")`)
	other.visit("index.html")
	other.await(`document.querySelector(".newer-strip button") && ` + thisEdition + ` === ` + jsText(old))
	other.press("Search")
	other.await(`document.querySelector(".js-search")?.hidden === false && ` + thisEdition + ` === ` + jsText(old))

	// What the old edition did not keep is gone: the newer one is loaded, with a word.
	other.visit("models/dotterel.html")
	other.await(`document.querySelector("h1").textContent.includes("Dotterel") && ` + thisEdition + ` !== ` + jsText(old))
	now := other.eval(thisEdition)
	other.visit("date.html#model=plover&limb-glass=black")
	other.await(answered + ` && ` + thisEdition + ` === ` + jsText(now))
	if got := other.eval(answered + `.textContent`); got == verdict {
		t.Errorf("the newer edition says the same: %s", got)
	}

	// The first page was left alone: it goes on with its own files, and is told.
	p.await(`document.querySelector(".footer .js-newer").textContent.startsWith("Another page has loaded a newer edition")`)
	p.eval(`(document.querySelector(".js-question .others").open = true, [...document.querySelectorAll(".js-question .others button")].at(-1).click(), 0)`)
	p.await(`location.hash.includes("ask=") && ` + answered + `.textContent === ` + jsText(verdict))
	if p.eval(thisEdition) != old {
		t.Error("the newer edition was forced on the open page")
	}
	hash := p.eval(`location.hash`)
	p.press("load it")
	p.await(answered + ` && ` + thisEdition + ` === ` + jsText(now) + ` && location.hash === ` + jsText(hash))
	p.visit("index.html")
	p.await(`(await caches.keys()).length === 1`) // nobody reads the old one any more
}

// TestAPageWithoutCopiesSaysThatItIsOutdated swaps editions under a form that
// nothing was kept for: the answer whose file is gone is not lost.
func TestAPageWithoutCopiesSaysThatItIsOutdated(t *testing.T) {
	p, sites := openPhone(t)
	p.drop(func(path string) bool {
		return path == "/worker.js" || strings.HasPrefix(path, "/data/dating/features-")
	})
	p.visit("date.html#model=plover&limb-glass=black")
	p.await(`document.querySelector(".attempt:not([hidden])")?.textContent.startsWith("A file did not arrive.")`)
	old := p.eval(thisEdition)
	p.mend()
	p.put("/", sites[1])
	p.press("Try again")
	p.await(`document.querySelector(".attempt:not([hidden])")?.textContent.startsWith("A newer edition is here.")`)
	p.press("Load the newer edition")
	p.await(answered + ` && ` + thisEdition + ` !== ` + jsText(old) + ` && location.hash === "#model=plover&limb-glass=black"`)
}

// TestRegistersOnOneHostKeepApart keeps two registers of one host, the one below
// the other: neither gives out a copy of the other's, or takes it away.
func TestRegistersOnOneHostKeepApart(t *testing.T) {
	p, sites := openPhone(t)
	p.put("/club/", sites[1])
	p.visit("index.html")
	p.await(inCharge)
	upper := p.eval(thisEdition)
	p.visit("club/models/dotterel.html")
	p.await(`navigator.serviceWorker.controller?.scriptURL.endsWith("/club/worker.js") && await caches.match(location.href)`)
	lower := p.eval(thisEdition)
	if names := p.eval(`JSON.stringify((await caches.keys()).map(n => n.split(" ").slice(0, 4).join(" ")))`); names != `["yearmark / `+upper+`","yearmark /club/ `+lower+`"]` || upper == lower {
		t.Errorf("the caches are %s", names)
	}
	p.drop(nil)
	for path, want := range map[string]string{"index.html": upper, "club/index.html": lower, "club/models/dotterel.html": lower} {
		p.visit(path)
		p.await(thisEdition + ` === ` + jsText(want))
	}
	p.visit("models/dotterel.html")
	p.await(missing + ` && location.pathname === "/offline.html"`)
	p.visit("club/models/dunlin.html")
	p.await(missing + ` && location.pathname === "/club/offline.html"`)
	p.press("Remove what is kept")
	p.await(`(await caches.keys()).length === 1 && (await caches.keys())[0].startsWith("yearmark / ")`)
	p.visit("index.html")
	p.await(thisEdition + ` === ` + jsText(upper))
}
