package pages_test

import (
	"bytes"
	"path"
	"slices"
	"strings"
	"testing"

	"golang.org/x/net/html"

	"yearmark/schema"
)

// nodes finds every element of a page by its identifier.
func nodes(d document) map[string]*html.Node {
	found := map[string]*html.Node{}
	for n := range d.tree.Descendants() {
		if id, ok := attribute(n, "id"); ok {
			found[id] = n
		}
	}
	return found
}

// TestTwoTapsToTheMarkedWords walks from every year on every page that leads to
// a claim (the first tap) by the citation that stands there in the open (the
// second) to its place on the source's page. Where the source lists the place,
// its words stand there in the open, and its scan with the region marked. On the
// way the same words open in a box beside the claim.
func TestTwoTapsToTheMarkedWords(t *testing.T) {
	facts := demonstrationFacts(t)
	byPath := map[string]map[string]*html.Node{}
	for _, d := range documents(t) {
		byPath[d.path] = nodes(d)
	}
	claims := map[string]*schema.Claim{}
	for _, m := range facts.ref.Models.All() {
		for _, c := range m.Claims() {
			claims[c.Address()] = c
		}
	}
	for _, m := range facts.ref.Makers.All() {
		for _, c := range m.Claims() {
			claims[c.Address()] = c
		}
	}
	walked, years := map[string]bool{}, 0
	for _, d := range documents(t) {
		for n := range d.tree.Descendants() {
			href, isLink := attribute(n, "href")
			if !isLink || n.Data != "a" || !hasClass(n, "years") {
				continue
			}
			address := resolved(d.path, href)
			c := claims[address]
			if c == nil || !slices.ContainsFunc(c.Citations(), func(c schema.Citation) bool { return facts.ref.Words(c) != nil }) {
				continue
			}
			if years++; walked[address] {
				continue
			}
			walked[address] = true
			page, anchor, _ := strings.Cut(address, "#")
			secondTap(t, facts.ref, byPath, page, byPath[page][anchor])
		}
	}
	if years < 500 || len(walked) < 120 {
		t.Errorf("%d years to %d claims were walked", years, len(walked))
	}
}

// secondTap follows the citation that stands in the open beside a claim.
func secondTap(t *testing.T, ref *schema.Reference, byPath map[string]map[string]*html.Node, page string, claim *html.Node) {
	t.Helper()
	at, box := "", ""
	for word := range claim.Descendants() {
		if !hasClass(word, "on-word") {
			continue
		}
		for n := range word.Descendants() {
			if href, ok := attribute(n, "href"); ok && at == "" {
				at = resolved(page, href)
			}
			if id, ok := attribute(n, "popovertarget"); ok && box == "" {
				box = id
			}
		}
	}
	name, _ := attribute(claim, "id")
	source, anchor, _ := strings.Cut(at, "#")
	place := byPath[source][anchor]
	if place == nil {
		t.Errorf("%s#%s leads to no place, but to %q", page, name, at)
		return
	}
	said := text(placeOf(place))
	opened := byPath[page][box]
	if opened == nil || !strings.Contains(text(opened), strings.TrimSpace(saysIn(placeOf(place)))) {
		t.Errorf("%s#%s opens no words beside it", page, name)
	}
	id := strings.TrimSuffix(path.Base(source), ".html")
	s, _ := ref.Sources.Get(id)
	for _, p := range s.Places {
		if (schema.Citation{Place: p.At.Value}).Anchor() != anchor || p.Cue() != nil {
			continue
		}
		if !strings.Contains(said, strings.Fields(p.Says.Value)[0]) {
			t.Errorf("%s: the words of %s do not stand there", at, p.At.Value)
		}
		if p.Scan.Value != "" && s.MayShow() == schema.ShowsAll && !marked(placeOf(place)) {
			t.Errorf("%s: no scan with the region marked", at)
		}
	}
}

// placeOf is the section of a place, of which an anchor may be the first thing.
func placeOf(n *html.Node) *html.Node {
	for ; n != nil; n = n.Parent {
		if hasClass(n, "place") {
			return n
		}
	}
	return nil
}

// saysIn gives the words of a place that stand in the open.
func saysIn(place *html.Node) string {
	for n := range place.Descendants() {
		if n.Data != "blockquote" {
			continue
		}
		for up := n.Parent; up != place; up = up.Parent {
			if up.Data == "details" {
				return "(behind a press)"
			}
		}
		return strings.TrimSpace(text(n))
	}
	return "(no words)"
}

// marked says that a place shows a scan with its region marked, in the open and
// loaded when it is looked at.
func marked(place *html.Node) bool {
	scan, mark := false, false
	for n := range place.Descendants() {
		if n.Data == "figure" && hasClass(n, "scan") {
			for in := range n.Descendants() {
				lazy, _ := attribute(in, "loading")
				scan = scan || in.Data == "img" && lazy == "lazy"
				mark = mark || in.Data == "svg" && hasClass(in, "mark")
			}
		}
	}
	return scan && mark
}

func text(n *html.Node) string {
	var b strings.Builder
	for in := range n.Descendants() {
		if in.Type == html.TextNode {
			b.WriteString(in.Data)
		}
	}
	return b.String()
}

// resolved gives an address below the root of the site.
func resolved(from, href string) string {
	to, fragment, _ := strings.Cut(href, "#")
	if to == "" {
		return from + "#" + fragment
	}
	return path.Join(path.Dir(from), to) + "#" + fragment
}

// TestPagesStayLight: no page of the demonstration has more than 150 kB.
func TestPagesStayLight(t *testing.T) {
	site := demonstration(t)
	for _, d := range documents(t) {
		data, err := site.Render(d.path)
		if err != nil {
			t.Fatal(err)
		}
		if len(data) > 150_000 {
			t.Errorf("%s has %d bytes", d.path, len(data))
		}
	}
}

// TestTwoHundredScansStayLight: a source of two hundred scanned pages has a page
// of its own that loads nothing large until it is looked at.
func TestTwoHundredScansStayLight(t *testing.T) {
	files := map[string]string{}
	var places bytes.Buffer
	for i := range 200 {
		n := number(i + 1)
		places.WriteString("  - {at: p. " + n + ", says: \"The words of page " + n + "\", scan: s/" + n + ".svg, region: \"xywh=percent:10,10,50,20\"}\n")
		files["pictures/s/"+n+".svg"] = `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 600 800"><path d="M0 0h9"/></svg>`
	}
	files["sources/book.md"] = "---\nrecord: source\nname: Book\nkind: book\nshown: all\nrights: Ours\nplaces:\n" + places.String() + "---\n"
	site := small(t, files)
	data, err := site.Render("sources/book.html")
	if err != nil {
		t.Fatal(err)
	}
	if len(data) > 300_000 || bytes.Count(data, []byte("<img")) != 200 || bytes.Count(data, []byte(`loading="lazy"`)) != 200 {
		t.Errorf("%d bytes, %d pictures, %d of them loaded when looked at", len(data), bytes.Count(data, []byte("<img")), bytes.Count(data, []byte(`loading="lazy"`)))
	}
}
