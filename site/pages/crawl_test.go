package pages_test

import (
	"bytes"
	"compress/gzip"
	"encoding/json"
	"io"
	"net/url"
	"path"
	"regexp"
	"strings"
	"sync"
	"testing"

	"golang.org/x/net/html"

	"yearmark/dating/tables"
	"yearmark/site/pages"
	"yearmark/site/prose"
)

// document is one page of the demonstration, parsed.
type document struct {
	path string
	tree *html.Node
	ids  map[string]int // how often each identifier stands on it
}

// documents parses every page of the demonstration, once.
func documents(t testing.TB) []document {
	t.Helper()
	parsed.Do(func() {
		site := demonstration(t)
		for _, p := range site.Paths() {
			if path.Ext(p) != ".html" {
				continue
			}
			data, err := site.Render(p)
			if err != nil {
				t.Fatal(err)
			}
			tree, err := html.Parse(bytes.NewReader(data))
			if err != nil {
				t.Fatal(err)
			}
			ids := map[string]int{}
			for n := range tree.Descendants() {
				if id, ok := attribute(n, "id"); ok {
					ids[id]++
				}
			}
			parsed.list = append(parsed.list, document{p, tree, ids})
		}
	})
	return parsed.list
}

var parsed struct {
	sync.Once
	list []document
}

func attribute(n *html.Node, key string) (string, bool) {
	for _, a := range n.Attr {
		if a.Key == key {
			return a.Val, true
		}
	}
	return "", false
}

func hasClass(n *html.Node, name string) bool {
	classes, _ := attribute(n, "class")
	for _, c := range strings.Fields(classes) {
		if c == name {
			return true
		}
	}
	return false
}

// TestNoDeadLink follows every link and every picture of every page: to a file
// of the site and an identifier on it, or out of the site by http, https or mailto.
func TestNoDeadLink(t *testing.T) {
	list := map[string]document{}
	for _, d := range documents(t) {
		for id, times := range d.ids {
			if times > 1 {
				t.Errorf("%s: the identifier %q stands %d times", d.path, id, times)
			}
		}
		list[d.path] = d
	}
	files := map[string]bool{}
	for _, p := range demonstration(t).Paths() {
		files[p] = true
	}
	for _, d := range list {
		for n := range d.tree.Descendants() {
			for _, key := range []string{"href", "src", "data-index"} {
				if address, ok := attribute(n, key); ok {
					follow(t, d, address, files, list)
				}
			}
		}
	}
}

func follow(t *testing.T, d document, address string, files map[string]bool, list map[string]document) {
	t.Helper()
	if d.path == "404.html" { // a host shows it at any address: its links lead from the top
		address = strings.TrimPrefix(address, "/")
	}
	u, err := url.Parse(address)
	switch {
	case err != nil:
		t.Errorf("%s: the address %q cannot be read: %v", d.path, address, err)
		return
	case prose.Outside(address):
		return
	case u.Scheme != "" || u.Host != "" || strings.HasPrefix(u.Path, "/"):
		t.Errorf("%s: the address %q is neither relative nor outside", d.path, address)
		return
	}
	to := d.path
	if u.Path != "" {
		to = path.Join(path.Dir(d.path), u.Path)
	}
	if !files[to] {
		t.Errorf("%s: nothing is at %q", d.path, address)
		return
	}
	if about, named := strings.CutPrefix(u.Fragment, "about="); named && to == "write-in.html" {
		place, id, _ := strings.Cut(about, "#")
		if !files[place] || id != "" && list[place].ids[id] == 0 {
			t.Errorf("%s: a visitor would write about %q, where nothing is", d.path, about)
		}
		return
	}
	state := strings.HasSuffix(to, "date.html") || strings.HasSuffix(to, "search.html")
	if u.Fragment != "" && path.Ext(to) == ".html" && list[to].ids[u.Fragment] == 0 && !(state && strings.Contains(u.Fragment, "=")) {
		t.Errorf("%s: no identifier %q on %s", d.path, u.Fragment, to)
	}
}

// TestReasonsLeadToTheirPlaces follows what the form links under a reason: the
// cited place on its source's page.
func TestReasonsLeadToTheirPlaces(t *testing.T) {
	d := demonstrationFacts(t)
	list := map[string]document{}
	for _, doc := range documents(t) {
		list[doc.path] = doc
	}
	files, _ := tables.Build(d.engine, nil)
	places := 0
	for _, f := range files {
		if !strings.HasPrefix(f.Name, "claims-") {
			continue
		}
		var claims struct {
			Cites []struct{ Words, Address string }
		}
		if err := json.Unmarshal(f.Data, &claims); err != nil {
			t.Fatal(err)
		}
		for _, c := range claims.Cites {
			places++
			if page, anchor, _ := strings.Cut(c.Address, "#"); list[page].ids[anchor] == 0 {
				t.Errorf("%q leads to %q, which is nowhere", c.Words, c.Address)
			}
		}
	}
	if places < 200 {
		t.Errorf("only %d places looked for", places)
	}
}

// TestEveryClaimHasItsAddress finds every claim of the reference where its
// permanent address says, with a link to the place in its first source beside
// it, and a withdrawn claim's note at its own.
func TestEveryClaimHasItsAddress(t *testing.T) {
	d := demonstrationFacts(t)
	ids := map[string]map[string]int{}
	for _, doc := range documents(t) {
		ids[doc.path] = doc.ids
	}
	places := citedInTheOpen(t)
	claims := 0
	for _, m := range d.ref.Models.All() {
		for _, c := range m.Claims() {
			claims++
			if len(c.Citations()) > 0 && !places[c.Address()] {
				t.Errorf("the claim %s is more than a click from the place that it is cited from", c.Key())
			}
			if page, anchor, _ := strings.Cut(c.Address(), "#"); ids[page][anchor] == 0 {
				t.Errorf("the claim %s is not at %s", c.Key(), c.Address())
			}
		}
		for _, w := range m.Withdrawn {
			if ids[m.Address()][w.ID.Value] == 0 {
				t.Errorf("the withdrawn claim %s/%s has no note", m.ID, w.ID.Value)
			}
		}
	}
	for _, m := range d.ref.Makers.All() {
		for _, c := range m.Claims() {
			claims++
			if page, anchor, _ := strings.Cut(c.Address(), "#"); ids[page][anchor] == 0 {
				t.Errorf("the claim %s is not at %s", c.Key(), c.Address())
			}
		}
	}
	if claims < 300 {
		t.Errorf("only %d claims looked for", claims)
	}
}

// citedInTheOpen lists the addresses of claims that show, without being opened,
// a link to a place in a source: two clicks from wherever the claim is linked.
func citedInTheOpen(t *testing.T) map[string]bool {
	open := map[string]bool{}
	for _, d := range documents(t) {
		for n := range d.tree.Descendants() {
			if !hasClass(n, "on-word") {
				continue
			}
			id, _ := attribute(n.Parent, "id")
			for a := range n.Descendants() {
				if href, _ := attribute(a, "href"); strings.Contains(href, "#at-") || strings.HasSuffix(href, "#at_large") {
					open[d.path+"#"+id] = true
				}
			}
		}
	}
	return open
}

var aYear = regexp.MustCompile(`\b1(9[3-8]\d)\b`)

// TestEveryYearHasItsWord: a year of the horizon within a page's matter is a
// link (to its claim or source), or stands where its grounds stand beside it:
// in a chart, a note, a proof, a record's own title or facts, a result with its
// reasons, or words that name their source.
func TestEveryYearHasItsWord(t *testing.T) {
	seen := 0
	for _, d := range documents(t) {
		if d.path == "checks.html" || d.path == "contribute.html" || d.path == "desk.html" {
			continue // its worked examples are of no reference
		}
		for n := range d.tree.Descendants() {
			if n.Type != html.TextNode || !aYear.MatchString(n.Data) {
				continue
			}
			seen++
			if !grounded(n) {
				t.Errorf("%s: the year in %.120q leads nowhere", d.path, strings.TrimSpace(n.Data))
			}
		}
	}
	if seen < 1000 {
		t.Errorf("only %d years seen", seen)
	}
}

func grounded(n *html.Node) bool {
	inMain := false
	for a := n.Parent; a != nil; a = a.Parent {
		switch {
		case a.Data == "a" || a.Data == "svg" || a.Data == "h1" || a.Data == "summary" || a.Data == "figcaption":
			return true
		case hasClass(a, "chart") || hasClass(a, "notes") || hasClass(a, "proof") && hasClass(a.Parent, "claim") || hasClass(a, "own") || hasClass(a, "result") || hasClass(a, "cited") || hasClass(a, "sourced"):
			return true
		}
		inMain = inMain || a.Data == "main"
	}
	return !inMain
}

// TestNothingRunsInline: no style attribute, no handler, no script or style
// written into a page; the policy stands before anything it governs.
func TestNothingRunsInline(t *testing.T) {
	for _, d := range documents(t) {
		policy := false
		for n := range d.tree.Descendants() {
			if equiv, _ := attribute(n, "http-equiv"); equiv == "Content-Security-Policy" {
				policy = true
			}
			if n.Type != html.ElementNode {
				continue
			}
			if _, src := attribute(n, "src"); n.Data == "style" || n.Data == "script" && !src {
				t.Errorf("%s: an inline %s", d.path, n.Data)
			}
			if _, href := attribute(n, "href"); !policy && (n.Data == "script" || n.Data == "link" && href) {
				t.Errorf("%s: %s before the policy", d.path, n.Data)
			}
			for _, a := range n.Attr {
				if a.Key == "style" || strings.HasPrefix(a.Key, "on") {
					t.Errorf("%s: the attribute %s", d.path, a.Key)
				}
			}
		}
		if !policy {
			t.Errorf("%s: no policy", d.path)
		}
	}
}

// TestWeight: no page with its style sheet and all that its scripts load
// before the first answer comes to more than 120 KB compressed.
func TestWeight(t *testing.T) {
	site := demonstration(t)
	const most = 120 << 10
	weight := map[string]int{}
	for _, p := range site.Paths() {
		data, err := site.Render(p)
		if err != nil {
			t.Fatal(err)
		}
		weight[p] = zipped(data)
	}
	heaviest, at := 0, ""
	for _, d := range documents(t) {
		n := weight[d.path]
		for p := range loadedBy(t, site, d) {
			n += weight[p]
		}
		if d.path == "date.html" { // and every table, though it fetches only those that it needs
			for p, w := range weight {
				if strings.HasPrefix(p, "data/dating/") {
					n += w
				}
			}
		}
		if n > most {
			t.Errorf("%s weighs %d bytes, more than %d", d.path, n, most)
		}
		if n > heaviest {
			heaviest, at = n, d.path
		}
	}
	t.Logf("the heaviest page is %s with %d bytes", at, heaviest)
}

// loadedBy lists the style sheet and the scripts that a page loads.
func loadedBy(t *testing.T, site *pages.Site, d document) map[string]bool {
	t.Helper()
	found := map[string]bool{}
	for n := range d.tree.Descendants() {
		address := ""
		switch rel, _ := attribute(n, "rel"); {
		case n.Data == "script":
			address, _ = attribute(n, "src")
		case rel == "stylesheet":
			address, _ = attribute(n, "href")
		}
		if address == "" {
			continue
		}
		p := path.Join(path.Dir(d.path), address)
		if _, err := site.Render(p); err != nil {
			t.Fatal(err)
		}
		found[p] = true
	}
	return found
}

func zipped(data []byte) int {
	var b bytes.Buffer
	w, _ := gzip.NewWriterLevel(&b, gzip.BestCompression)
	_, _ = io.Copy(w, bytes.NewReader(data))
	_ = w.Close()
	return b.Len()
}

// siteScript is the address of a script of the site itself.
var siteScript = regexp.MustCompile(`^(\.\./)?assets/(date|examples|kept|my-bows|number|offline|open|search|write-in)-[0-9a-f]{10}\.js$`)

// elementsThatRun finds what a hostile record would have to put into a page:
// scripts that are not the site's, handlers, and addresses that run.
func elementsThatRun(t *testing.T, page []byte) []string {
	t.Helper()
	tree, err := html.Parse(bytes.NewReader(page))
	if err != nil {
		t.Fatal(err)
	}
	var found []string
	for n := range tree.Descendants() {
		if n.Type != html.ElementNode {
			continue
		}
		if src, _ := attribute(n, "src"); n.Data == "script" && !siteScript.MatchString(src) || n.Data == "img" && src == "x" {
			found = append(found, "the element "+n.Data)
		}
		for _, a := range n.Attr {
			value := strings.ToLower(strings.TrimSpace(a.Val))
			if strings.HasPrefix(a.Key, "on") || (a.Key == "href" || a.Key == "src") && strings.HasPrefix(value, "javascript:") {
				found = append(found, "the attribute "+a.Key+"="+a.Val)
			}
		}
	}
	return found
}
