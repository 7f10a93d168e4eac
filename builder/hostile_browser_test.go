package builder_test

import (
	"bytes"
	"mime"
	"net/http"
	"net/http/httptest"
	"path"
	"regexp"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/cdproto/network"
	browserpage "github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"

	"yearmark/testdata/chromium"
	"yearmark/testdata/need"
)

var ownPolicy = regexp.MustCompile(`<meta http-equiv="Content-Security-Policy"[^>]*>`)

// TestNothingRunsInABrowser opens every page of sites made from hostile
// records in a real Chromium, with the site's own policy and without it:
// nothing of the records runs, asks for another host or opens a dialog. The
// pages that scripts make are among them, and addresses that mean harm.
func TestNothingRunsInABrowser(t *testing.T) {
	need.Chromium(t)
	base := hostileBase(t)
	all := strings.Join(payloads(t)[:10], " ")
	for _, f := range fieldsOf(t, base) {
		text, _ := set(t, f.file, base[f.file], f.way, all)
		if report := reportOf(t, opened(t, with(base, f.file, text))); report.Counts.Error == 0 {
			base[f.file] = text
		}
	}
	base["pages/about.md"] += proseOf(t)
	files, _ := rendered(t, opened(t, base))
	var mu sync.Mutex
	open := false // the policy is taken off
	server := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		data, ok := files[strings.TrimPrefix(r.URL.Path, "/")]
		if !ok {
			http.NotFound(w, r)
			return
		}
		mu.Lock()
		if open {
			data = ownPolicy.ReplaceAll(data, nil)
		}
		mu.Unlock()
		w.Header().Set("Content-Type", mime.TypeByExtension(path.Ext(r.URL.Path)))
		_, _ = w.Write(data)
	}))
	defer server.Close()

	var harm []string
	listen := func(event any) {
		mu.Lock()
		defer mu.Unlock()
		switch e := event.(type) {
		case *network.EventRequestWillBeSent:
			if address := e.Request.URL; !strings.HasPrefix(address, server.URL) && !strings.HasPrefix(address, "about:") {
				harm = append(harm, "asked for "+address)
			}
		case *browserpage.EventJavascriptDialogOpening:
			harm = append(harm, "a dialog: "+e.Message)
		}
	}
	tab := chromium.Tab(t, chromedp.WithListener(listen))
	if _, err := chromedp.Call(tab, network.Enable, network.EnableParams{}); err != nil {
		t.Fatal(err)
	}
	if _, err := chromedp.Call(tab, browserpage.Enable, browserpage.EnableParams{}); err != nil {
		t.Fatal(err)
	}
	addresses := []string{
		"date.html#model=plover", "date.html#model=<img src=x onerror=window.ran=1>&riser-wood=<script>window.ran=1</script>", "date.html#riser-wood=padauk&model-number=%3Cimg src=x onerror=window.ran=1%3E",
		"search.html#words=window", "search.html#words=%3Cimg%20src%3Dx%20onerror%3Dwindow.ran%3D1%3E&has=%22%3E%3Cscript%3E", "date.html#constructor=__proto__",
	}
	for name := range files {
		if ending := path.Ext(name); ending == ".html" || ending == ".svg" {
			addresses = append(addresses, name)
		}
	}
	slices.Sort(addresses)
	for _, without := range []bool{false, true} {
		mu.Lock()
		open = without
		mu.Unlock()
		for _, address := range addresses {
			if strings.Contains(address, "#") { // else only the part after # would change
				if err := chromedp.Do(tab, chromedp.Navigate("about:blank")); err != nil {
					t.Fatal(err)
				}
			}
			if err := chromedp.Do(tab, chromedp.Navigate(server.URL+"/"+address)); err != nil {
				t.Fatalf("%s: %v", address, err)
			}
			if strings.Contains(address, "#") {
				time.Sleep(300 * time.Millisecond) // scripts make the page
			}
			ran, err := chromedp.Run(tab, chromedp.Evaluate[bool](`(() => {
				for (const e of document.querySelectorAll("[onmouseover],[onclick],[onfocus],[onerror],[onload],a[href^='javascript' i]")) { e.click?.(); e.dispatchEvent(new Event("mouseover")); window.ran = 2; }
				return "ran" in window; })()`))
			if err != nil {
				t.Fatalf("%s: %v", address, err)
			}
			if ran {
				t.Errorf("%s (without policy: %v): something of the records ran or would", address, without)
			}
		}
	}
	mu.Lock()
	defer mu.Unlock()
	for _, h := range harm {
		t.Error(h)
	}
	if shown := bytes.Count(files["models/plover.html"], []byte("window.ran")); shown < 10 || len(addresses) < 35 {
		t.Errorf("the records' harm is shown as text %d times on %d pages: it was not read", shown, len(addresses))
	}
}

// proseOf joins the prose of the cases that mean to run.
func proseOf(t *testing.T) string {
	var b strings.Builder
	for _, c := range hostileCases(t) {
		if c.where == "+" && !strings.HasPrefix(c.name, "cost-") && !strings.HasPrefix(c.name, "prose-") && c.name != "heading-many" && c.name != "html-turned" {
			b.WriteString("\n" + spelled(t, c.what) + "\n")
		}
	}
	return b.String()
}
