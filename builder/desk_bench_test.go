package builder

import (
	"fmt"
	"net/http"
	"net/http/httptest"
	"net/url"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"yearmark/builder/desk"
	"yearmark/schema"
	"yearmark/testdata/made"
)

// BenchmarkFindingsWhileTyping asks what is found in a form, as the desk's page
// does a moment after each key, beside the bare sum: reading every record's
// front matter with the YAML library.
func BenchmarkFindingsWhileTyping(b *testing.B) {
	for _, pages := range []int{1000, 10000} {
		b.Run(fmt.Sprint(pages), func(b *testing.B) {
			folder := b.TempDir()
			if err := made.Write(folder, made.Options{Pages: pages, Seed: 1}); err != nil {
				b.Fatal(err)
			}
			r, err := newRegister(b.Context(), folder)
			if err != nil {
				b.Fatal(err)
			}
			b.Setenv("XDG_CONFIG_HOME", b.TempDir())
			var d *desk.Front
			d = desk.NewFront(80, func(folder string) (*desk.Desk, error) {
				return d.New(folder, r, "http://localhost:1/", desk.NewShown(folder)), nil
			}, nil)
			if err := d.Open(folder); err != nil {
				b.Fatal(err)
			}
			let := letIn(b, d)
			model := r.followed.Study().Ref.Models.All()[0]
			form := let.form("model/" + model.ID)
			var asked, bare time.Duration
			for n := 0; b.Loop(); n++ {
				form.Set("name", fmt.Sprint("Name ", n))
				began := time.Now()
				let.post("check/model/"+model.ID, form)
				asked += time.Since(began)
				began = time.Now()
				readAll(b, folder)
				bare += time.Since(began)
			}
			b.ReportMetric(float64(asked.Milliseconds())/float64(b.N), "ms/answer")
			b.ReportMetric(float64(asked)/float64(bare), "ratio")
		})
	}
}

// readAll reads the front matter of every record, as bare as it goes.
func readAll(b *testing.B, folder string) {
	b.Helper()
	for _, kind := range schema.Kinds {
		names, _ := filepath.Glob(filepath.Join(folder, kind.Folder(), "*.md"))
		for _, name := range names {
			source, err := os.ReadFile(name)
			if err != nil {
				b.Fatal(err)
			}
			if r, _ := schema.ReadRecord(kind.Folder()+"/"+filepath.Base(name), source); r == nil {
				b.Fatal(name)
			}
		}
	}
}

// admitted is a browser that a desk has let in, without a network between them.
type admitted struct {
	b      *testing.B
	desk   *desk.Front
	path   string
	cookie *http.Cookie
}

func letIn(b *testing.B, d *desk.Front) admitted {
	b.Helper()
	a := admitted{b: b, desk: d}
	answer := a.ask(http.MethodGet, d.Way(), "")
	a.path, a.cookie = answer.Header().Get("Location"), answer.Result().Cookies()[0]
	return a
}

func (a admitted) ask(method, path, body string) *httptest.ResponseRecorder {
	r := httptest.NewRequest(method, "http://localhost:80"+path, strings.NewReader(body))
	r.Host = "localhost:80"
	r.Header.Set("Origin", "http://localhost:80")
	r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
	if a.cookie != nil {
		r.AddCookie(a.cookie)
	}
	w := httptest.NewRecorder()
	a.desk.ServeHTTP(w, r)
	return w
}

func (a admitted) form(record string) url.Values {
	a.b.Helper()
	return formOf(a.b, a.ask(http.MethodGet, a.path+"edit/"+record, "").Body.String())
}

func (a admitted) post(path string, form url.Values) {
	a.b.Helper()
	if w := a.ask(http.MethodPost, a.path+path, form.Encode()); w.Code != http.StatusOK {
		a.b.Fatalf("%s is answered with %d: %.300s", path, w.Code, w.Body)
	}
}
