//go:build unix

package builder_test

import (
	"bytes"
	"compress/gzip"
	"context"
	"encoding/json"
	"mime"
	"net/http"
	"net/http/httptest"
	"os"
	"path"
	"path/filepath"
	"slices"
	"testing"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"

	"yearmark/testdata/chromium"
	"yearmark/testdata/made"
	"yearmark/testdata/need"
)

// The network of a slow phone, and how many visits a median is of.
const (
	phoneLatency = 400         // milliseconds from a request to the answer's head
	phoneBytes   = 400_000 / 8 // a second, either way
	visits       = 5
)

// firstUse is what a visitor comes to a page for: a script that does it as soon
// as it can be done, and says when the page has answered.
type firstUse struct {
	name, path string
	budget     time.Duration
	script     string // a function that gives true once the page has answered, called in every frame
}

var firstUses = []firstUse{
	{"form", "date.html", 3500 * time.Millisecond, `() => {
		const question = document.querySelector("#Question")?.textContent;
		const tile = document.querySelector(".js-question .tile") ?? [...document.querySelectorAll(".js-question button")].find((button) => button.textContent === "I cannot tell");
		if (window.asked === undefined && question && tile) {
			window.asked = question;
			tile.click();
		}
		return window.asked !== undefined && question !== window.asked;
	}`},
	{"search", "search.html", 4 * time.Second, `() => {
		const words = document.querySelector(".js-search:not([hidden]) .js-words");
		if (words && words.value === "") {
			words.value = "riser";
			words.dispatchEvent(new Event("input", { bubbles: true }));
		}
		return document.querySelector(".js-hits li") !== null;
	}`},
}

// visited is what a first visit took until the page answered.
type visited struct {
	Milliseconds    float64
	Requests, Bytes int
}

// BenchmarkFirstVisit opens the form and the search in a real Chromium that has
// seen nothing of the site, over the network of a slow phone from a host that
// packs what it sends. It reports, in the median, the milliseconds until the
// form has answered a tap and the search a word, what part of the budget that
// is, and the requests and bytes that were sent until then.
func BenchmarkFirstVisit(b *testing.B) {
	need.Chromium(b)
	for _, of := range []struct {
		name   string
		folder func(b *testing.B) string
	}{
		{"demonstration", func(b *testing.B) string { return filepath.Join(need.Root(b), "content") }},
		{"10000", func(b *testing.B) string {
			folder := filepath.Join(b.TempDir(), "reference")
			if err := made.Write(folder, made.Options{Pages: 10_000, Seed: 1}); err != nil {
				b.Fatal(err)
			}
			return folder
		}},
	} {
		b.Run(of.name, func(b *testing.B) {
			site := filepath.Join(b.TempDir(), "site")
			publish(b, of.folder(b), site)
			server := httptest.NewServer(packing(site))
			b.Cleanup(server.Close)
			for b.Loop() {
				for _, use := range firstUses {
					var list []visited
					for range visits {
						list = append(list, firstVisit(b, server.URL, use))
					}
					slices.SortFunc(list, func(a, b visited) int { return int(a.Milliseconds - b.Milliseconds) })
					median := list[len(list)/2]
					b.ReportMetric(median.Milliseconds, use.name+"-ms")
					b.ReportMetric(median.Milliseconds/float64(use.budget.Milliseconds()), use.name+"-of-budget")
					b.ReportMetric(float64(median.Requests), use.name+"-requests")
					b.ReportMetric(float64(median.Bytes), use.name+"-bytes")
				}
			}
			b.ReportMetric(0, "ns/op")
		})
	}
}

// mostRequests is how many files a first visit may ask for before it is answered, pictures counted too.
const mostRequests = 12

// TestFirstVisitAsksForFewFiles counts what the form and the search ask for until they answer.
func TestFirstVisitAsksForFewFiles(t *testing.T) {
	need.Chromium(t)
	site := filepath.Join(t.TempDir(), "site")
	publish(t, filepath.Join(need.Root(t), "content"), site)
	server := httptest.NewServer(packing(site))
	t.Cleanup(server.Close)
	for _, use := range firstUses {
		if v := firstVisit(t, server.URL, use); v.Requests > mostRequests {
			t.Errorf("%s asks for %d files before it answers, want %d at most", use.path, v.Requests, mostRequests)
		}
	}
}

// packing serves a folder as a host does that packs every text.
func packing(folder string) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		data, err := os.ReadFile(filepath.Join(folder, filepath.FromSlash(path.Clean(r.URL.Path))))
		if err != nil {
			http.NotFound(w, r)
			return
		}
		var packed bytes.Buffer
		z := gzip.NewWriter(&packed)
		_, _ = z.Write(data) // a buffer takes everything
		_ = z.Close()
		w.Header().Set("Content-Type", mime.TypeByExtension(path.Ext(r.URL.Path)))
		w.Header().Set("Content-Encoding", "gzip")
		_, _ = w.Write(packed.Bytes())
	})
}

// firstVisit opens a page in a browser of its own, uses it, and says what that took.
func firstVisit(b testing.TB, base string, use firstUse) visited {
	b.Helper()
	answered := make(chan visited, 1)
	tab := chromium.Tab(b, chromedp.WithListener(func(event any) {
		if e, ok := event.(*runtime.EventBindingCalled); ok {
			var v visited
			if err := json.Unmarshal([]byte(e.Payload), &v); err != nil {
				b.Error(err)
			}
			answered <- v
		}
	}))
	ctx, stop := context.WithTimeout(tab, time.Minute)
	defer stop()
	call(b, ctx, network.Enable, network.EnableParams{})
	call(b, ctx, network.EmulateNetworkConditionsByRule, network.EmulateNetworkConditionsByRuleParams{
		MatchedNetworkConditions: []*network.Conditions{{Latency: phoneLatency, DownloadThroughput: phoneBytes, UploadThroughput: phoneBytes}},
	})
	call(b, ctx, emulation.SetDeviceMetricsOverride, emulation.SetDeviceMetricsOverrideParams{Width: 390, Height: 844, DeviceScaleFactor: 2, Mobile: true})
	call(b, ctx, runtime.Enable, cdp.Empty{})
	call(b, ctx, runtime.AddBinding, runtime.AddBindingParams{Name: "answered"})
	call(b, ctx, page.Enable, page.EnableParams{})
	call(b, ctx, page.AddScriptToEvaluateOnNewDocument, page.AddScriptToEvaluateOnNewDocumentParams{Source: `(() => {
		const use = ` + use.script + `;
		requestAnimationFrame(function look() {
			if (!use()) return requestAnimationFrame(look);
			const files = [...performance.getEntriesByType("navigation"), ...performance.getEntriesByType("resource")];
			answered(JSON.stringify({ Milliseconds: performance.now(), Requests: files.length, Bytes: files.reduce((sum, file) => sum + file.transferSize, 0) }));
		});
	})();`})
	if err := chromedp.Do(ctx, chromedp.Navigate(base+"/"+use.path)); err != nil {
		b.Fatal(err)
	}
	select {
	case v := <-answered:
		return v
	case <-ctx.Done():
		b.Fatalf("%s does not answer: %v", use.path, ctx.Err())
		return visited{}
	}
}

// call runs a command of the browser's protocol.
func call[P, R any](b testing.TB, ctx context.Context, command cdp.Command[P, R], params P) {
	b.Helper()
	if _, err := chromedp.Call(ctx, command, params); err != nil {
		b.Fatal(err)
	}
}
