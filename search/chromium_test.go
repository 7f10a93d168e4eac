package search

import (
	"context"
	"encoding/json"
	"net/http"
	"net/http/httptest"
	"path/filepath"
	"testing"

	"github.com/chromedp/chromedp"

	"yearmark/testdata/need"
)

// site serves the page's modules and an index under the strict policy of the
// published site, and a page with nothing on it.
func site(t testing.TB, folder string) string {
	t.Helper()
	mux := http.NewServeMux()
	js := filepath.Join(need.Root(t), "builder", "site", "js")
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

// askInChromium asks the page's engine in a real browser.
func askInChromium(t testing.TB, p page, questions []pageQuestion) []timed[pageAnswer] {
	t.Helper()
	options := append(chromedp.DefaultExecAllocatorOptions[:], chromedp.NoSandbox, chromedp.ExecPath(need.Chromium(t)), chromedp.DisableGPU)
	allocator, stop := chromedp.NewExecAllocator(context.Background(), options...)
	t.Cleanup(stop)
	tab, closeTab := chromedp.NewContext(allocator)
	t.Cleanup(closeTab)
	if err := chromedp.Do(tab, chromedp.Navigate(site(t, p.folder)+"/")); err != nil {
		t.Fatal(err)
	}
	asked, err := json.Marshal(questions)
	if err != nil {
		t.Fatal(err)
	}
	told, err := chromedp.Run(tab, chromedp.Evaluate[string](`(async () => {
		const { open } = await import("/js/search/engine.js");
		const answers = [];
		const engine = await open("/search/`+p.root+`");
		for (const { find } of `+string(asked)+`) {
			const start = performance.now();
			const answer = await engine.find(find);
			answers.push({ Ms: performance.now() - start, Answer: answer });
		}
		return JSON.stringify(answers);
	})()`, chromedp.EvalAwaitPromise))
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
	docs := madeDocs()
	ix := madeBuilt(t)
	folder, root := writeMadeShards(t)
	asked := questions(docs, 200)
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
