package tables_test

import (
	"context"
	"encoding/json"
	"fmt"
	"net/http"
	"net/http/httptest"
	"path/filepath"
	"testing"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/performance"
	"github.com/chromedp/chromedp"

	"yearmark/dating/tables"
	"yearmark/dating/testdata/made"
	"yearmark/testdata/chromium"
	"yearmark/testdata/need"
)

// browser opens a Chromium on an empty page of a server on the loopback that
// has the engine's scripts, the test's scripts and some data.
func browser(t testing.TB, data map[string][]byte) context.Context {
	t.Helper()
	need.Chromium(t)
	mux := http.NewServeMux()
	mux.Handle("/js/", http.StripPrefix("/js/", http.FileServer(http.Dir(filepath.Dir(filepath.Dir(engineScript(t)))))))
	mux.Handle("/test/", http.StripPrefix("/test/", http.FileServer(http.Dir("testdata"))))
	mux.HandleFunc("/data/", func(w http.ResponseWriter, r *http.Request) {
		body, ok := data[r.URL.Path[len("/data/"):]]
		if !ok {
			http.NotFound(w, r)
			return
		}
		w.Header().Set("Content-Type", "application/json")
		w.Write(body)
	})
	mux.HandleFunc("/{$}", func(w http.ResponseWriter, _ *http.Request) { w.Write([]byte("<!doctype html><title>dating</title>")) })
	server := httptest.NewServer(mux)
	t.Cleanup(server.Close)
	ctx := chromium.Tab(t)
	if err := chromedp.Do(ctx, chromedp.Navigate(server.URL+"/")); err != nil {
		t.Fatal(err)
	}
	return ctx
}

// script runs a script that ends in a promise and gives what it comes to.
func script[T any](t testing.TB, ctx context.Context, text string) T {
	t.Helper()
	v, err := chromedp.Run(ctx, chromedp.Evaluate[T]("(async () => {"+text+"})()", chromedp.EvalAwaitPromise))
	if err != nil {
		t.Fatal(err)
	}
	return v
}

func TestChromiumAgrees(t *testing.T) {
	need.Chromium(t)
	c := makeCases(t, randomTables, randomReferences, questionsEach)
	data, err := json.Marshal(c)
	if err != nil {
		t.Fatal(err)
	}
	ctx := browser(t, map[string][]byte{"cases.json": data})
	answers := script[string](t, ctx, `
		const engine = await import("/js/dating/engine.js");
		const { answers } = await import("/test/cases.mjs");
		return JSON.stringify(await answers(engine, await (await fetch("/data/cases.json")).json()));`)
	compare(t, c, []byte(answers))
}

// BenchmarkFormAnswer measures, in a real browser, what one answer in the form
// costs on 3,000 models, some with conditional claims, when the model is not known:
// posterior, strict answer, sets, evidence and the gain of every other feature. It
// reports the median over 40 answers by the clock, the least, and the mean of the
// scripting alone, by the time that the thread was running. of-budget is the slowest
// median beside a frame, 16 ms.
func BenchmarkFormAnswer(b *testing.B) {
	need.Chromium(b)
	files, _ := tables.Build(made.Engine(b, 3000), nil)
	data, bytes := map[string][]byte{}, 0
	for _, f := range files {
		data[f.Name] = f.Data
		bytes += len(f.Data)
	}
	ctx := browser(b, data)
	if _, err := chromedp.Call(ctx, performance.Enable, performance.EnableParams{TimeDomain: performance.EnableTimeDomainThreadTicks}); err != nil {
		b.Fatal(err)
	}
	loaded := script[float64](b, ctx, `
		const { open } = await import("/js/dating/engine.js");
		const begun = performance.now();
		window.dating = await open("/data/", async (address) => (await fetch(address)).json());
		await dating.need(dating.features.map((f) => f.id));
		window.seen = [["wood", "v3"], ["mark", "v7"], ["grip", "v2"], ["socket", "present"], ["glass", "v1"], ["draw-weight", "34"], ["tips", "v2"]];
		window.ask = (n, times) => {
			const question = { models: [], observed: seen.slice(0, n).map(([feature, value]) => ({ feature, values: [value] })) };
			return Array.from({ length: times }, () => {
				const start = performance.now();
				dating.answer(question);
				return performance.now() - start;
			}).sort((a, b) => a - b);
		};
		for (let n = 0; n < 8; n++) ask(n, 25);
		return performance.now() - begun;`)
	b.ReportMetric(loaded, "ms-to-load")
	slowest := 0.0
	for n := range 8 {
		before := scripting(b, ctx)
		times := script[[]float64](b, ctx, fmt.Sprintf("return ask(%d, 40);", n))
		slowest = max(slowest, times[20])
		b.ReportMetric(times[20], fmt.Sprintf("ms-after-%d", n))
		b.ReportMetric(times[0], fmt.Sprintf("ms-least-after-%d", n))
		b.ReportMetric((scripting(b, ctx)-before)/40*1000, fmt.Sprintf("ms-scripting-after-%d", n))
	}
	b.ReportMetric(slowest/16, "of-budget")
	b.ReportMetric(float64(bytes), "bytes-of-tables")
	b.ReportMetric(0, "ns/op")
}

// scripting is the time in seconds that scripts of the page have run so far.
func scripting(b *testing.B, ctx context.Context) float64 {
	result, err := chromedp.Call(ctx, performance.GetMetrics, cdp.Empty{})
	if err != nil {
		b.Fatal(err)
	}
	for _, m := range result.Metrics {
		if m.Name == "TaskDuration" {
			return m.Value
		}
	}
	b.Fatal("the browser does not say how long scripts ran")
	return 0
}
