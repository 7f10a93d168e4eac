package search

import (
	"context"
	"encoding/json"
	"net/http"
	"net/http/httptest"
	"path/filepath"
	"slices"
	"strconv"
	"testing"

	"github.com/chromedp/chromedp"

	"yearmark/testdata/chromium"
	"yearmark/testdata/need"
)

// site serves the page's modules and an index under the strict policy of the
// published site, and a page with nothing on it.
func site(t testing.TB, folder string) string {
	t.Helper()
	mux := http.NewServeMux()
	js := filepath.Join(need.Root(t), "site", "assets", "js")
	mux.Handle("/js/", http.StripPrefix("/js/", http.FileServer(http.Dir(js))))
	mux.Handle("/search/", http.StripPrefix("/search/", http.FileServer(http.Dir(folder))))
	mux.HandleFunc("/{$}", func(w http.ResponseWriter, _ *http.Request) {
		w.Write([]byte("<!doctype html><title>search</title>"))
	})
	server := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		w.Header().Set("Content-Security-Policy", "default-src 'self'")
		mux.ServeHTTP(w, r)
	}))
	t.Cleanup(server.Close)
	return server.URL
}

// tab opens a real browser on the page with nothing on it.
func tab(t testing.TB, folder string) context.Context {
	t.Helper()
	tab := chromium.Tab(t)
	if err := chromedp.Do(tab, chromedp.Navigate(site(t, folder)+"/")); err != nil {
		t.Fatal(err)
	}
	return tab
}

// askInChromium asks the page's engine in a real browser. Where cold, each question is asked of an
// engine that has read nothing, all files being in memory: what is timed is scripting.
func askInChromium(t testing.TB, p page, questions []pageQuestion) []timed[pageAnswer] {
	t.Helper()
	asked, err := json.Marshal(map[string]any{"root": p.root, "cold": p.cold, "questions": questions})
	if err != nil {
		t.Fatal(err)
	}
	told, err := chromedp.Run(tab(t, p.folder), chromedp.Evaluate[string](`(async ({ root, cold, questions }) => {
		const { open } = await import("/js/search/engine.js");
		const fetchBytes = async (name) => (await fetch(name)).arrayBuffer();
		const files = new Map();
		const load = async (name) => {
			if (!files.has(name)) files.set(name, await fetchBytes(name));
			return files.get(name);
		};
		const shared = await open("/search/" + root, load);
		if (cold) for (const { find } of questions) await shared.find(find);
		const answers = [];
		for (const { find } of questions) {
			const engine = cold ? await open("/search/" + root, load) : shared;
			const start = performance.now();
			const answer = await engine.find(find);
			answers.push({ Ms: performance.now() - start, Answer: answer });
		}
		return JSON.stringify(answers);
	})(`+string(asked)+`)`, chromedp.EvalAwaitPromise))
	if err != nil {
		t.Fatal(err)
	}
	var answers []timed[pageAnswer]
	if err := json.Unmarshal([]byte(told), &answers); err != nil {
		t.Fatal(err)
	}
	return answers
}

// TestChromiumAnswersAsBleveDoes asks a sample of the generated questions in a real browser.
func TestChromiumAnswersAsBleveDoes(t *testing.T) {
	need.Chromium(t)
	ix := madeBuilt(t)
	folder, root := writeMadeShards(t)
	asked := questions(madeDocs(), 200)
	var list []pageQuestion
	for _, q := range asked {
		list = append(list, pageQuestion{Find: asPageQuery(q)})
	}
	for i, got := range askInChromium(t, page{folder: folder, root: root}, list) {
		want, err := ix.Find(asked[i])
		if err != nil {
			t.Fatal(err)
		}
		if why, apart := disagreement(want, got.Answer); why != "" || apart > 1e-6 {
			t.Errorf("%+v: %s, scores %.2g apart", asked[i], why, apart)
		}
	}
}

// BenchmarkScripting reports what a first answer takes of scripting in a real browser, beside
// the milliseconds that the same browser takes to sort a million random numbers.
func BenchmarkScripting(b *testing.B) {
	need.Chromium(b)
	for _, n := range []int{10_000, 100_000} {
		b.Run(strconv.Itoa(n), func(b *testing.B) {
			docs := made(n)
			folder, root := writeShards(b, build(b, docs))
			var list []pageQuestion
			for _, q := range questions(docs, 400) {
				list = append(list, pageQuestion{Find: asPageQuery(q)})
			}
			var times []float64
			for b.Loop() {
				times = nil
				for _, a := range askInChromium(b, page{folder: folder, root: root, cold: true}, list) {
					times = append(times, a.Ms)
				}
			}
			slices.Sort(times)
			bare, err := chromedp.Run(tab(b, folder), chromedp.Evaluate[float64](`(() => {
				const numbers = Float64Array.from({ length: 1e6 }, Math.random);
				const start = performance.now();
				numbers.sort();
				return performance.now() - start;
			})()`))
			if err != nil {
				b.Fatal(err)
			}
			b.ReportMetric(at(times, 50), "ms-p50")
			b.ReportMetric(at(times, 95), "ms-p95")
			b.ReportMetric(at(times, 95)/bare, "p95-to-sort-ratio")
		})
	}
}
