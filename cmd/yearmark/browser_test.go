package main

import (
	"bytes"
	"context"
	"encoding/json"
	"net/http"
	"net/http/httptest"
	"net/url"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"

	"yearmark/site/charts"
	"yearmark/testdata/chromium"
	"yearmark/testdata/need"
)

// answering answers the question that the page asks by clicking a picture, or
// says that it cannot be told where the answer would have to be written, and
// waits for the next question.
const answering = `new Promise((done, fail) => {
  const before = document.querySelector("#Question").textContent;
  const tile = document.querySelectorAll(".js-question .tile")[1];
  const pass = [...document.querySelectorAll(".js-question button")].find((b) => b.textContent === "I cannot tell");
  (tile ?? pass).click();
  const end = Date.now() + 20000;
  (function look() {
    if (document.querySelector("#Question").textContent !== before) done(location.hash);
    else if (Date.now() > end) fail(new Error("no next question after: " + before));
    else setTimeout(look, 20);
  })();
})`

// table reads the year odds that the page shows, once they have come to rest.
const table = `new Promise(done => setTimeout(() => done(Object.fromEntries(
  [...document.querySelectorAll(".js-result .odds-chart tbody tr")].map(r => [r.cells[0].textContent, r.cells[1].textContent]))), 300))`

// TestTheFormAndTheCommandGiveTheSameOdds publishes the demonstration, opens
// the site in a real browser, answers three questions in the form, and reads
// the same year odds there as `date` prints for the same answers.
func TestTheFormAndTheCommandGiveTheSameOdds(t *testing.T) {
	need.Chromium(t)
	content, site := filepath.Join(t.TempDir(), "content"), filepath.Join(t.TempDir(), "site")
	if err := os.CopyFS(content, os.DirFS(filepath.Join(need.Root(t), "content"))); err != nil { // publish remembers its editions beside the records
		t.Fatal(err)
	}
	if status, _, stderr := command("publish", content, "--to", site); status != exitClean {
		t.Fatalf("publish ended with %d: %s", status, stderr)
	}
	server := httptest.NewServer(http.FileServer(http.Dir(site)))
	defer server.Close()

	tab := chromium.Tab(t)
	if err := chromedp.Do(tab, chromedp.Navigate(server.URL+"/date.html#model=plover")); err != nil {
		t.Fatal(err)
	}
	waitFor(t, tab, `document.querySelector(".js-result .verdict") && document.querySelector("#Question")`)
	hash := ""
	for turn := 0; len(answersIn(t, hash)) < 3; turn++ {
		if turn > 15 {
			t.Fatalf("no three answers after %d questions: %s", turn, hash)
		}
		hash = inPage[string](t, tab, answering)
	}
	shown := inPage[map[string]string](t, tab, table)

	args := append([]string{"date", "--in", content, "--format", "json"}, asArguments(t, hash)...)
	status, stdout, stderr := command(args...)
	if status != exitClean {
		t.Fatalf("%v ended with %d: %s", args, status, stderr)
	}
	compareOdds(t, stdout, shown)
}

// command runs one command line and gives what it wrote.
func command(args ...string) (status int, stdout, stderr string) {
	var out, err bytes.Buffer
	status = run(args, stdio{in: strings.NewReader(""), out: &out, err: &err})
	return status, out.String(), err.String()
}

func inPage[T any](t *testing.T, tab context.Context, expression string) T {
	t.Helper()
	v, err := chromedp.Run(tab, chromedp.Evaluate[T](expression, chromedp.EvalAwaitPromise))
	if err != nil {
		t.Fatal(err)
	}
	return v
}

func waitFor(t *testing.T, tab context.Context, expression string) {
	t.Helper()
	if !inPage[bool](t, tab, `new Promise(done => { const end = Date.now() + 20000; (function look() {
		const yes = Boolean(`+expression+`);
		if (yes || Date.now() > end) done(yes); else setTimeout(look, 20); })() })`) {
		t.Fatalf("never came true: %s", expression)
	}
}

// answersIn gives the features answered in the address of a result.
func answersIn(t *testing.T, hash string) url.Values {
	t.Helper()
	said, err := url.ParseQuery(strings.TrimPrefix(hash, "#"))
	if err != nil {
		t.Fatal(err)
	}
	for _, other := range []string{"model", "skip", "ask"} {
		said.Del(other)
	}
	return said
}

// asArguments turns the answers in an address into arguments of `date`.
func asArguments(t *testing.T, hash string) []string {
	t.Helper()
	args := []string{"--model", "plover"}
	for feature, values := range answersIn(t, hash) {
		args = append(args, feature+"="+values[0])
	}
	return args
}

func compareOdds(t *testing.T, printed string, shown map[string]string) {
	t.Helper()
	var answer struct {
		Odds []struct {
			Year   json.Number
			Chance float64
		}
	}
	if err := json.Unmarshal([]byte(printed), &answer); err != nil {
		t.Fatal(err)
	}
	if len(answer.Odds) < 5 || len(shown) == 0 {
		t.Fatalf("%d years printed, %d shown", len(answer.Odds), len(shown))
	}
	compared := 0
	for _, o := range answer.Odds {
		if want := charts.Percent(o.Chance); o.Chance > 1e-4 {
			compared++
			if got := shown[o.Year.String()]; got != want {
				t.Errorf("%s: the page shows %q, the command %q", o.Year, got, want)
			}
		}
	}
	if compared != len(shown) {
		t.Errorf("the page shows %d years, the command %d", len(shown), compared)
	}
}
