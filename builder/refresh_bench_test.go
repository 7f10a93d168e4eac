package builder

import (
	"bufio"
	"context"
	"encoding/json"
	"fmt"
	"io"
	"net/http"
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

	"yearmark/testdata/made"
	"yearmark/testdata/need"
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

// sees tells the test, through the binding "told", of every edit whose words
// stand in the document, and when the page was asked for and had come, by
// navigation or by the preview's script, in milliseconds since 1970.
const sees = `(() => {
  let last = "";
  const look = () => {
    const found = document.body?.textContent.match(/Edited number (\d+)\./);
    if (!found || found[1] === last) return;
    last = found[1];
    const fetched = performance.getEntriesByName(location.href, "resource").at(-1);
    const came = fetched ?? performance.getEntriesByType("navigation")[0];
    const at = (ms) => performance.timeOrigin + ms;
    told(JSON.stringify({ Number: Number(last), Asked: at(came.requestStart), Answered: at(came.responseStart), Stands: at(performance.now()) }));
  };
  new MutationObserver(look).observe(document, { childList: true, subtree: true });
})();`

// sighting is what sees tells.
type sighting struct {
	Number                  int
	Asked, Answered, Stands float64
}

// watcher is a Chromium that looks at one page of the preview.
type watcher struct {
	ctx  context.Context
	told chan sighting
}

func startWatcher(b *testing.B, address string) *watcher {
	b.Helper()
	options := append(chromedp.DefaultExecAllocatorOptions[:], chromedp.NoSandbox, chromedp.ExecPath(need.Chromium(b)), chromedp.DisableGPU)
	allocator, stop := chromedp.NewExecAllocator(context.Background(), options...)
	b.Cleanup(stop)
	w := &watcher{told: make(chan sighting, 100)}
	ctx, closeTab := chromedp.NewContext(allocator, chromedp.WithListener(func(event any) {
		if e, ok := event.(*cdruntime.EventBindingCalled); ok {
			var s sighting
			if err := json.Unmarshal([]byte(e.Payload), &s); err != nil {
				b.Error(err)
			}
			w.told <- s
		}
	}))
	b.Cleanup(closeTab)
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
	if err == nil {
		err = chromedp.Do(ctx, chromedp.Navigate(address))
	}
	if err != nil {
		b.Fatal(err)
	}
	return w
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

// follower is told of every state as a browser's page is, without a browser.
type follower struct{ states chan string }

func follow(b *testing.B, base string) *follower {
	b.Helper()
	answer, err := http.Get(base + "/-preview/changes")
	if err != nil {
		b.Fatal(err)
	}
	b.Cleanup(func() { _ = answer.Body.Close() })
	f := &follower{states: make(chan string, 1000)}
	go func() {
		for lines := bufio.NewScanner(answer.Body); lines.Scan(); {
			if state, ok := strings.CutPrefix(lines.Text(), "id: "); ok {
				f.states <- state
			}
		}
	}()
	<-f.states // the one that is there
	return f
}

// forget drops what was told so far.
func (f *follower) forget() {
	for {
		select {
		case <-f.states:
		default:
			return
		}
	}
}

// loaded gets a file of the site once a newer state is announced, and gives
// how long after the beginning its last byte was there.
func (f *follower) loaded(b *testing.B, address string, began time.Time) time.Duration {
	select {
	case <-f.states:
	case <-time.After(time.Minute):
		b.Error("no newer state")
	}
	answer, err := http.Get(address)
	if err != nil {
		b.Error(err)
		return 0
	}
	defer answer.Body.Close()
	if _, err := io.Copy(io.Discard, answer.Body); err != nil || answer.StatusCode != http.StatusOK {
		b.Errorf("%s: %s, %v", address, answer.Status, err)
	}
	return time.Since(began)
}

// BenchmarkEditToRefresh measures, from the moment before a record is saved,
// when the browser asks for its page anew, when the answer begins and when the
// new words stand in the document, in milliseconds; shown is how long the
// preview takes to make the new state. After every other edit somebody else asks
// at the same time for the search's page, which names the root of its files, or
// for the dating's manifest, which names its header: search and tables are when
// those have come. YEARMARK_PAGES is the size of the reference.
func BenchmarkEditToRefresh(b *testing.B) {
	pages, _ := strconv.Atoi(os.Getenv("YEARMARK_PAGES"))
	if pages == 0 {
		pages = 10_000
	}
	p := startPreview(b, pages)
	models, err := filepath.Glob(filepath.Join(p.folder, "models", "*.md"))
	if err != nil || len(models) == 0 {
		b.Fatal("no models", err)
	}
	file := models[len(models)/2]
	text, err := os.ReadFile(file)
	if err != nil {
		b.Fatal(err)
	}
	w := startWatcher(b, p.base+"/models/"+strings.TrimSuffix(filepath.Base(file), ".md")+".html")
	others := follow(b, p.base)
	spent := map[string][]time.Duration{}
	number := 0
	for b.Loop() {
		for range 120 {
			number++
			others.forget()
			began := time.Now()
			other := make(chan time.Duration, 1)
			asked, address := []string{"", "search", "", "tables"}[number%4], []string{"", "/search.html", "", "/data/dating/manifest.json"}[number%4]
			if asked != "" {
				go func() { other <- others.loaded(b, p.base+address, began) }()
			}
			words := strings.Repeat(" And so on.", number%9)
			save(b, file, fmt.Appendf(slices.Clone(text), "\nEdited number %d.%s\n", number, words), number%2 == 0)
			var seen sighting
			for seen.Number != number {
				select {
				case seen = <-w.told:
				case <-time.After(time.Minute):
					b.Fatalf("edit %d is not seen", number)
				}
			}
			since := func(ms float64) time.Duration { return time.UnixMicro(int64(ms * 1000)).Sub(began) }
			for name, took := range map[string]time.Duration{
				"shown": <-p.shown, "asked": since(seen.Asked), "answered": since(seen.Answered), "stands": since(seen.Stands),
			} {
				spent[name] = append(spent[name], took)
			}
			if asked != "" {
				spent[asked] = append(spent[asked], <-other)
			}
			time.Sleep(time.Duration(300+100*(number%8)) * time.Millisecond)
		}
	}
	for name, list := range spent {
		slices.Sort(list)
		b.ReportMetric(float64(list[len(list)/2].Microseconds())/1000, name+"-median-ms")
		b.ReportMetric(float64(list[len(list)*95/100].Microseconds())/1000, name+"-p95-ms")
	}
}
