package builder

import (
	"bufio"
	"context"
	"encoding/json"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/page"
	cdruntime "github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"

	"yearmark/testdata/chromium"
	"yearmark/testdata/made"
)

// previewed is a preview in a process of its own.
type previewed struct {
	folder, base string
	shown        chan time.Duration // how long it says that each edit took it
}

var (
	servingLine = regexp.MustCompile(`serving .* at (http://localhost:\d+)/`)
	shownLine   = regexp.MustCompile(`shown after (\d+) ms`)
)

// startPreview builds the command and starts it on a made reference.
func startPreview(b *testing.B, pages int) *previewed {
	b.Helper()
	p := &previewed{folder: filepath.Join(b.TempDir(), "made"), shown: make(chan time.Duration, 1000)}
	if err := made.Write(p.folder, made.Options{Pages: pages, Seed: 1}); err != nil {
		b.Fatal(err)
	}
	command := filepath.Join(b.TempDir(), "yearmark")
	if out, err := exec.Command("go", "build", "-o", command, "yearmark/cmd/yearmark").CombinedOutput(); err != nil {
		b.Fatalf("%v\n%s", err, out)
	}
	cmd := exec.Command(command, "preview", p.folder, "--port", "0")
	out, err := cmd.StdoutPipe()
	if err != nil {
		b.Fatal(err)
	}
	cmd.Stderr = os.Stderr
	if err := cmd.Start(); err != nil {
		b.Fatal(err)
	}
	b.Cleanup(func() { _ = cmd.Process.Kill(); _ = cmd.Wait() })
	serving := make(chan string, 1)
	go p.listen(out, serving)
	select {
	case p.base = <-serving:
	case <-time.After(5 * time.Minute):
		b.Fatal("the preview does not serve")
	}
	return p
}

// listen reads what the preview says.
func (p *previewed) listen(out io.Reader, serving chan<- string) {
	lines := bufio.NewScanner(out)
	for lines.Scan() {
		if m := servingLine.FindStringSubmatch(lines.Text()); m != nil {
			serving <- m[1]
		}
		if m := shownLine.FindStringSubmatch(lines.Text()); m != nil {
			n, _ := strconv.Atoi(m[1])
			p.shown <- time.Duration(n) * time.Millisecond
		}
	}
}

// sees tells the test, through the binding "told", of every newer state that
// the document stands for, and when its page was asked for and had come, by
// navigation or by the preview's script, in milliseconds since 1970. A record
// stands for a state by the words that were added to it, the search by the
// root of its files, the form by the edition once its tables' manifest has come.
const sees = `(() => {
  let last, manifest, told;
  performance.setResourceTimingBufferSize(10000);
  const at = (ms) => performance.timeOrigin + ms;
  const look = () => {
    const form = document.querySelector(".js-date");
    const mark = document.body?.textContent.match(/Edited number \d+\./)?.[0] ?? document.querySelector(".js-search")?.dataset.index ?? form?.dataset.edition;
    if (!mark || mark === last || form && (!manifest || manifest === told)) return;
    last = mark;
    told = manifest;
    const came = performance.getEntriesByName(location.href, "resource").at(-1) ?? performance.getEntriesByType("navigation")[0];
    window.told(JSON.stringify({ Mark: mark, Asked: at(came.requestStart), Answered: at(came.responseStart), Stands: at(form ? manifest.responseEnd : performance.now()) }));
  };
  new MutationObserver(look).observe(document, { childList: true, subtree: true });
  new PerformanceObserver((list) => {
    manifest = list.getEntries().findLast((entry) => entry.name.includes("/manifest.js")) ?? manifest;
    look();
  }).observe({ type: "resource", buffered: true });
})();`

// sighting is what sees tells.
type sighting struct {
	Mark                    string
	Asked, Answered, Stands float64
}

// watcher is a Chromium that looks at one page of the preview.
type watcher struct {
	ctx  context.Context
	told chan sighting
}

func startWatcher(b *testing.B) *watcher {
	b.Helper()
	w := &watcher{told: make(chan sighting, 100)}
	ctx := chromium.Tab(b, chromedp.WithListener(func(event any) {
		if e, ok := event.(*cdruntime.EventBindingCalled); ok {
			var s sighting
			if err := json.Unmarshal([]byte(e.Payload), &s); err != nil {
				b.Error(err)
			}
			w.told <- s
		}
	}))
	w.ctx = ctx
	_, err := chromedp.Call(ctx, cdruntime.Enable, cdp.Empty{})
	if err == nil {
		_, err = chromedp.Call(ctx, cdruntime.AddBinding, cdruntime.AddBindingParams{Name: "told"})
	}
	if err == nil {
		_, err = chromedp.Call(ctx, page.Enable, page.EnableParams{})
	}
	if err == nil {
		_, err = chromedp.Call(ctx, page.AddScriptToEvaluateOnNewDocument, page.AddScriptToEvaluateOnNewDocumentParams{Source: sees})
	}
	if err != nil {
		b.Fatal(err)
	}
	return w
}

// visit opens a page, and takes back what was told before.
func (w *watcher) visit(b *testing.B, address string) {
	b.Helper()
	if err := chromedp.Do(w.ctx, chromedp.Navigate(address)); err != nil {
		b.Fatal(err)
	}
	for {
		select {
		case <-w.told:
		case <-time.After(2 * time.Second):
			return
		}
	}
}

// save writes a file as editors do: in its place, or beside it and then renamed.
func save(b *testing.B, file string, text []byte, rename bool) {
	to := file
	if rename {
		to = filepath.Join(filepath.Dir(file), ".saved")
	}
	if err := os.WriteFile(to, text, 0o644); err != nil {
		b.Fatal(err)
	}
	if rename {
		if err := os.Rename(to, file); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkEditToRefresh measures, from the moment before a record is saved,
// when the browser asks for a page anew, when the answer begins and when the
// newer state stands in the document, in milliseconds, for the record's page, for the
// search and for the form, which follow the page; shown is how long the preview
// takes to make the new state. of-budget is the median of the page that stands
// beside what it may take.
func BenchmarkEditToRefresh(b *testing.B) {
	for _, size := range []struct {
		pages  int
		budget time.Duration
	}{{1000, 100 * time.Millisecond}, {10_000, 250 * time.Millisecond}} {
		b.Run(strconv.Itoa(size.pages), func(b *testing.B) {
			e := editToRefresh(b, size.pages)
			for name, list := range e.spent {
				slices.Sort(list)
				b.ReportMetric(float64(list[len(list)/2].Microseconds())/1000, name+"-median-ms")
				b.ReportMetric(float64(list[len(list)*95/100].Microseconds())/1000, name+"-p95-ms")
			}
			page := e.spent["page-stands"]
			b.ReportMetric(float64(page[len(page)/2])/float64(size.budget), "of-budget")
			b.ReportMetric(0, "ns/op")
		})
	}
}

// editToRefresh edits a record of a made reference while each of three pages is looked at.
func editToRefresh(b *testing.B, pages int) *editor {
	p := startPreview(b, pages)
	models, err := filepath.Glob(filepath.Join(p.folder, "models", "*.md"))
	if err != nil || len(models) == 0 {
		b.Fatal("no models", err)
	}
	e := &editor{file: models[len(models)/2], spent: map[string][]time.Duration{}}
	if e.text, err = os.ReadFile(e.file); err != nil {
		b.Fatal(err)
	}
	w := startWatcher(b)
	for b.Loop() {
		for _, visited := range []struct{ name, address string }{
			{"page", "/models/" + strings.TrimSuffix(filepath.Base(e.file), ".md") + ".html"}, {"search", "/search.html"}, {"form", "/date.html"},
		} {
			w.visit(b, p.base+visited.address)
			for range 40 {
				e.edit(b, p, w, visited.name)
			}
		}
	}
	return e
}

// editor writes at one record.
type editor struct {
	file   string
	text   []byte
	number int
	spent  map[string][]time.Duration
}

// edit saves the record with other words, waits for a newer state to be seen,
// and rests for a while.
func (e *editor) edit(b *testing.B, p *previewed, w *watcher, name string) {
	e.number++
	words := strings.Repeat(" And so on.", e.number%9)
	began := time.Now()
	save(b, e.file, fmt.Appendf(slices.Clone(e.text), "\nEdited number %d.%s\n", e.number, words), e.number%2 == 0)
	var seen sighting
	select {
	case seen = <-w.told:
	case <-time.After(time.Minute):
		b.Fatalf("edit %d is not seen in the %s", e.number, name)
	}
	if name == "page" && seen.Mark != fmt.Sprintf("Edited number %d.", e.number) {
		b.Fatalf("edit %d is seen as %q", e.number, seen.Mark)
	}
	since := func(ms float64) time.Duration { return time.UnixMicro(int64(ms * 1000)).Sub(began) }
	for part, took := range map[string]time.Duration{
		"shown": <-p.shown, name + "-asked": since(seen.Asked), name + "-answered": since(seen.Answered), name + "-stands": since(seen.Stands),
	} {
		e.spent[part] = append(e.spent[part], took)
	}
	time.Sleep(time.Duration(300+100*(e.number%8)) * time.Millisecond)
	if n := len(w.told); n > 0 {
		b.Fatalf("%d more states are seen after edit %d", n, e.number)
	}
}
