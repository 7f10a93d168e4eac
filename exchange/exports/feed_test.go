package exports

import (
	"bytes"
	"cmp"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"net/url"
	"regexp"
	"slices"
	"strings"
	"testing"
	"testing/fstest"
	"time"

	"yearmark/schema"
	"yearmark/schema/edtf"
)

// element is XML as anybody reads it.
type element struct {
	XMLName  xml.Name
	Attrs    []xml.Attr `xml:",any,attr"`
	Text     string     `xml:",chardata"`
	Children []element  `xml:",any"`
}

func (e element) all(name string) []element {
	return slices.DeleteFunc(slices.Clone(e.Children), func(c element) bool { return c.XMLName.Local != name })
}

func (e element) attr(name string) string {
	for _, a := range e.Attrs {
		if a.Name.Local == name {
			return a.Value
		}
	}
	return ""
}

// wellFormed reads a whole document, strictly.
func wellFormed(t *testing.T, name string, data []byte) element {
	t.Helper()
	d := xml.NewDecoder(bytes.NewReader(data))
	for {
		if _, err := d.Token(); errors.Is(err, io.EOF) {
			break
		} else if err != nil {
			t.Fatalf("%s is not well-formed: %v", name, err)
		}
	}
	var root element
	if err := xml.Unmarshal(data, &root); err != nil {
		t.Fatal(err)
	}
	return root
}

const atomNS = "http://www.w3.org/2005/Atom"

// TestFeedFollowsRFC4287 asks what section 4.1 requires of a feed and of its
// entries, and section 3.3 of dates.
func TestFeedFollowsRFC4287(t *testing.T) {
	feed := wellFormed(t, "feed.atom", filesOf(t, demonstration(t))["feed.atom"])
	if feed.XMLName != (xml.Name{Space: atomNS, Local: "feed"}) {
		t.Fatalf("the root is %v", feed.XMLName)
	}
	one := func(e element, name string) string {
		list := e.all(name)
		if len(list) != 1 || strings.TrimSpace(list[0].Text) == "" || list[0].XMLName.Space != atomNS {
			t.Errorf("%d elements %s in %s", len(list), name, e.XMLName.Local)
			return ""
		}
		return strings.TrimSpace(list[0].Text)
	}
	ids := map[string]bool{}
	id := func(e element) {
		text := one(e, "id")
		if u, err := url.Parse(text); err != nil || !u.IsAbs() || ids[text] {
			t.Errorf("the id %q is no address, or is there twice", text)
		}
		ids[text] = true
	}
	date := func(e element) string {
		text := one(e, "updated")
		if _, err := time.Parse(time.RFC3339, text); err != nil {
			t.Error(err)
		}
		return text
	}
	link := func(e element, rel string) string {
		for _, l := range e.all("link") {
			if l.attr("rel") == rel {
				return l.attr("href")
			}
		}
		t.Errorf("no link %s in %q", rel, one(e, "id"))
		return ""
	}
	id(feed)
	one(feed, "title")
	last := date(feed)
	if len(feed.all("author")) != 1 || one(feed.all("author")[0], "name") == "" {
		t.Error("the feed has no author, nor do its entries")
	}
	if got := link(feed, "self"); got != "https://bows.example.org/feed.atom" {
		t.Errorf("the feed says it is at %q", got)
	}
	entries := feed.all("entry")
	for _, e := range entries {
		id(e)
		one(e, "title")
		one(e, "summary")
		if now := date(e); now > last {
			t.Errorf("an entry of %s after one of %s", now, last)
		} else {
			last = now
		}
		if href := link(e, "alternate"); !strings.HasPrefix(href, "https://bows.example.org/") {
			t.Errorf("an entry leads to %q", href)
		}
	}
	if len(entries) < 30 || len(entries) > maxEntries {
		t.Errorf("%d entries", len(entries))
	}
}

func TestFeedOfGivenChanges(t *testing.T) {
	f := factsOf(t, register(t))
	f.Changes = []Change{
		{Key: "a", Date: "2026-01-02", Title: "Old & <b>", Summary: "x", Address: "models/heron.html#made"},
		{Key: "b", Date: "2026-02", Title: "New", Summary: "y", Address: "index.html"},
		{Key: "c", Date: "soon", Title: "Never", Summary: "z", Address: "index.html"},
	}
	feed := wellFormed(t, "feed.atom", filesOf(t, f)["feed.atom"])
	var got []string
	for _, e := range feed.all("entry") {
		got = append(got, e.all("title")[0].Text+" "+e.all("updated")[0].Text)
	}
	want := []string{"Edition of 2026-11-14 2026-11-14T00:00:00Z", "New 2026-02-01T00:00:00Z", "Old & <b> 2026-01-02T00:00:00Z"}
	if len(got) < 4 || !slices.Equal(got[:3], want) {
		t.Errorf("got %q, want %q first", got, want)
	}
	bare := factsOf(t, fstest.MapFS{"reference.yaml": {Data: []byte("name: R\nyears: 1930/1985\n")}})
	bare.Edition.Date = ""
	if _, ok := filesOf(t, bare)["feed.atom"]; ok {
		t.Error("a feed of nothing was made")
	}
}

// TestIdentifiersLast wants a change to keep its identifier while others come
// and go: version 5 of RFC 9562.
func TestIdentifiersLast(t *testing.T) {
	form := regexp.MustCompile(`^urn:uuid:[0-9a-f]{8}-[0-9a-f]{4}-5[0-9a-f]{3}-[89ab][0-9a-f]{3}-[0-9a-f]{12}$`)
	if a := uuid("x"); a != uuid("x") || a == uuid("y") || !form.MatchString(a) {
		t.Errorf("%s", a)
	}
}

// TestSitemapFollowsTheProtocol asks what sitemaps.org 0.9 requires: whole
// addresses below the sitemap's own folder, escaped, 50,000 at most, else an index.
func TestSitemapFollowsTheProtocol(t *testing.T) {
	f := factsOf(t, register(t))
	f.Pages = []string{"index.html", "models/heron.html", "search/a.json", "pages/a b&c.html"}
	set := wellFormed(t, "sitemap.xml", filesOf(t, f)["sitemap.xml"])
	var got []string
	for _, u := range set.all("url") {
		got = append(got, u.all("loc")[0].Text)
	}
	want := []string{"https://tarnside.example.org/index.html", "https://tarnside.example.org/models/heron.html", "https://tarnside.example.org/pages/a%20b&c.html"}
	if set.XMLName != (xml.Name{Space: sitemapNS, Local: "urlset"}) || !slices.Equal(got, want) {
		t.Errorf("%v: %q", set.XMLName, got)
	}
	f.Pages = nil
	if set := wellFormed(t, "sitemap.xml", filesOf(t, f)["sitemap.xml"]); len(set.all("url")) != 1+len(f.Ref.Records()) {
		t.Errorf("%d pages of %d records", len(set.all("url")), len(f.Ref.Records()))
	}
	f.Pages = make([]string, 120_000)
	for i := range f.Pages {
		f.Pages[i] = fmt.Sprintf("p/%06d.html", i)
	}
	files := filesOf(t, f)
	index := wellFormed(t, "sitemap.xml", files["sitemap.xml"])
	total := 0
	for _, part := range index.all("sitemap") {
		name := strings.TrimPrefix(part.all("loc")[0].Text, "https://tarnside.example.org/")
		n := len(wellFormed(t, name, files[name]).all("url"))
		if n == 0 || n > maxAddresses {
			t.Errorf("%s has %d addresses", name, n)
		}
		total += n
	}
	if index.XMLName.Local != "sitemapindex" || total != 120_000 {
		t.Errorf("%s of %d addresses", index.XMLName.Local, total)
	}
	f.Ref.Settings.PublicURL.Value = ""
	if _, ok := filesOf(t, f)["sitemap.xml"]; ok {
		t.Error("a sitemap without a public address was made")
	}
}

// TestNewestKeepsTheNewest holds the changes that are kept, of few and of many,
// against all of them sorted; those without a date are left out.
func TestNewestKeepsTheNewest(t *testing.T) {
	days := []string{"2019-03-04", "2021", "2021-07", "2021-07-01", "2024-11-30", "2024-12-01"}
	for _, count := range []int{0, 1, maxEntries, maxEntries + 1, 4 * maxEntries, 3000} {
		var kept newest
		var all []dated
		for n := range count {
			day := days[n*n%len(days)]
			expr, err := edtf.Parse(day)
			if err != nil {
				t.Fatal(err)
			}
			tell := func(date string) Change { return Change{Key: fmt.Sprintf("seen %d", n*7919%count), Date: date} }
			kept.add(schema.Span{Expr: expr}, tell)
			all = append(all, dated{tell(day), instant(day)})
		}
		kept.add(schema.Span{}, func(string) Change { return Change{Key: "without a date"} })
		slices.SortFunc(all, func(a, b dated) int { return cmp.Or(cmp.Compare(b.at, a.at), cmp.Compare(a.Key, b.Key)) })
		if got := kept.sorted(); !slices.Equal(got, all[:min(count, maxEntries)]) {
			t.Errorf("of %d changes %d are kept and not the newest in order", count, len(got))
		}
	}
}

// TestFeedTellsTheWords: an entry about a claim has the words of the places that
// it cites on either side, each place once, as text (RFC 4287, section 3.1.1.1);
// what a source keeps back is not among them.
func TestFeedTellsTheWords(t *testing.T) {
	source := func(name, more string) *fstest.MapFile {
		return &fstest.MapFile{Data: []byte("---\nrecord: source\nname: " + name + "\nkind: catalogue\n" + more + "---\n")}
	}
	files := fstest.MapFS{
		"reference.yaml": {Data: []byte("name: R\nyears: 1950/1970\n")},
		"makers/m.md": {Data: []byte("---\nrecord: maker\nname: M\ntrading: {span: 1950/1960, cites: [\"list, p. 2\", \"list, p. 2\", \"none, p. 2\"], against: [\"list, p. 3\"], " +
			"settled: {because: Misread, on: 2026-01-02}}\n---\n")},
		"sources/list.md": source("List", "places:\n  - {at: p. 2, says: \"Maple & <b>elm</b>\"}\n  - {at: p. 3, says: Walnut}\n"),
		"sources/none.md": source("None", "shown: none\nplaces: [{at: p. 2, says: KEPT}]\n"),
	}
	data := filesOf(t, factsOf(t, files))["feed.atom"]
	want := "makers/m/trading: Misread “Maple & <b>elm</b>” (List, p. 2) “Walnut” (List, p. 3)"
	for _, e := range wellFormed(t, "feed.atom", data).all("entry") {
		if title := e.all("title")[0].Text; title == "M: a dispute was settled" {
			if got := e.all("summary")[0]; got.Text != want || len(got.Children) > 0 {
				t.Errorf("the summary is %q, want %q", got.Text, want)
			}
			want = ""
		}
	}
	if want != "" || bytes.Contains(data, []byte("KEPT")) {
		t.Errorf("no entry, or one too many words: %s", data)
	}
}
