package builder_test

import (
	"bytes"
	"context"
	"encoding/csv"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"iter"
	"net/url"
	"path"
	"path/filepath"
	"strings"
	"testing"
	"unicode/utf8"

	"golang.org/x/net/html"

	"yearmark/builder"
	"yearmark/testdata/need"
)

// hostileSecret stands in every private part of the base.
const hostileSecret = "zqsecretqz"

// markup is the elements and attributes that pages of ours are made of: "a",
// "a href".
type markup map[string]bool

// ownMarkup is what the demonstration and the base are written with, and what
// CommonMark writes that neither of them happens to use. Whatever else stands
// in a page came from a record.
func ownMarkup(t testing.TB) markup {
	t.Helper()
	ours := markup{}
	for _, also := range []string{"h3", "h4", "h5", "h6", "h3 id", "h4 id", "h5 id", "h6 id", "hr", "br", "pre", "code", "code class", "blockquote", "ol start", "em", "strong", "th align", "td align", "img width", "img height", "img srcset", "img sizes", "th style", "td style"} {
		ours[also] = true
	}
	delete(ours, "th style") // tables are aligned without styles: the policy forbids them
	delete(ours, "td style")
	base := filepath.Join(t.TempDir(), "base")
	writeFiles(t, base, hostileBase(t))
	for _, folder := range []string{base, filepath.Join(need.Root(t), "content")} {
		study, err := builder.Open(t.Context(), folder)
		if err != nil {
			t.Fatal(err)
		}
		if n := reportOf(t, study).Counts.Error; n > 0 {
			t.Fatalf("%s has %d errors: %s", folder, n, told(reportOf(t, study)))
		}
		files, _ := rendered(t, study)
		for name, data := range files {
			if path.Ext(name) == ".html" {
				eachMarkup(t, data, func(n *html.Node, pair string) { ours[pair] = true })
			}
		}
	}
	return ours
}

// rendered gives every file of a study's site, and which cannot be written.
func rendered(t testing.TB, study *builder.Study) (_ map[string][]byte, broken []string) {
	t.Helper()
	site, err := study.Site(context.Background(), nil)
	if err != nil {
		t.Fatal(err)
	}
	files := map[string][]byte{}
	for _, p := range site.Paths() {
		data, err := site.Render(p)
		if err != nil {
			broken = append(broken, fmt.Sprintf("%s: %v", p, err))
			data = []byte{}
		}
		files[p] = data
	}
	return files, broken
}

func eachMarkup(t testing.TB, page []byte, visit func(n *html.Node, pair string)) {
	t.Helper()
	tree, err := html.Parse(bytes.NewReader(page))
	if err != nil {
		t.Fatal(err)
	}
	for n := range tree.Descendants() {
		if n.Type != html.ElementNode {
			continue
		}
		visit(n, n.Data)
		for _, a := range n.Attr {
			visit(n, n.Data+" "+a.Key)
		}
	}
}

// harmless holds a whole site to what the guarantees say, whatever the records
// hold: pages are of our own mark-up alone and lead where pages may lead, no
// file holds what is private or turns text around, no cell begins a formula,
// drawings draw, and data files can be read. It gives what cannot be written. Without strict, odd
// characters and what is private are let pass.
func harmless(t *testing.T, study *builder.Study, ours markup, strict bool) (broken []string) {
	t.Helper()
	files, broken := rendered(t, study)
	for name, data := range files {
		if !utf8.Valid(data) && !isBinary(name) {
			t.Errorf("%s is not UTF-8", name)
		}
		if strict && bytes.Contains(bytes.ToLower(data), []byte(hostileSecret)) {
			t.Errorf("%s holds what is private", name)
		}
		if at := bytes.IndexFunc(data, isTrick); at >= 0 && strict && !isBinary(name) {
			t.Errorf("%s holds an odd character: %q", name, data[max(0, at-20):min(len(data), at+20)])
		}
		if name != path.Clean(name) || strings.HasPrefix(name, "..") || strings.ContainsAny(name, "\\\x00\n") {
			t.Errorf("%q is no file of a site", name)
		}
		switch path.Ext(name) {
		case ".html":
			harmlessPage(t, name, data, ours, files)
		case ".csv":
			harmlessTable(t, name, data)
		case ".svg":
			harmlessDrawing(t, name, data)
		case ".json", ".jsonld":
			if err := asJSON(data); err != nil {
				t.Errorf("%s: %v", name, err)
			}
		case ".xml", ".atom":
			harmlessFeed(t, name, data)
		}
	}
	return broken
}

func isBinary(name string) bool {
	switch path.Ext(name) {
	case ".png", ".jpg", ".jpeg", ".webp", ".ogg", ".bin":
		return true
	}
	return false
}

// isTrick says that a character cannot be seen and changes how text is read.
func isTrick(r rune) bool {
	return r == 0 || r == 0x1b || r >= 0x202a && r <= 0x202e || r >= 0x2066 && r <= 0x2069 || r == 7
}

func harmlessPage(t *testing.T, name string, page []byte, ours markup, files map[string][]byte) {
	t.Helper()
	eachMarkup(t, page, func(n *html.Node, pair string) {
		if !ours[pair] {
			t.Errorf("%s holds <%s>, which is not ours", name, pair)
		}
		key, value := "", ""
		if _, found, ok := strings.Cut(pair, " "); ok {
			for _, a := range n.Attr {
				if a.Key == found {
					key, value = a.Key, a.Val
				}
			}
		}
		switch {
		case strings.HasPrefix(key, "on") || key == "style" || key == "srcdoc":
			t.Errorf("%s has %s=%q", name, key, value)
		case key == "srcset":
			for part := range strings.SplitSeq(value, ",") {
				harmlessAddress(t, name, n, strings.Fields(part)[0], files)
			}
		case key == "href" || key == "src" || key == "action" || key == "formaction" || key == "poster" || key == "data" || key == "cite":
			if name == "404.html" { // a host shows it at any address: its links lead from the top
				value = strings.TrimPrefix(value, "/")
			}
			harmlessAddress(t, name, n, value, files)
		}
	})
}

// harmlessAddress wants an address to stay on the site and to be there, or,
// where a reader follows it, to be http, https or mail.
func harmlessAddress(t *testing.T, page string, n *html.Node, address string, files map[string][]byte) {
	t.Helper()
	if n.Data == "a" && strings.HasPrefix(address, "#") {
		return // a place on the same page, whatever it is called
	}
	u, err := url.Parse(address)
	if err != nil {
		t.Errorf("%s: <%s> leads to %q: %v", page, n.Data, address, err)
		return
	}
	outside := u.Scheme == "http" || u.Scheme == "https" || u.Scheme == "mailto"
	switch {
	case n.Data == "a" && outside:
	case u.Scheme != "" || u.Host != "" || strings.HasPrefix(address, "/") || strings.Contains(address, "\\"):
		t.Errorf("%s: <%s> leads to %q", page, n.Data, address)
	case u.Path != "":
		if to := path.Join(path.Dir(page), u.Path); files[to] == nil {
			t.Errorf("%s: <%s> leads to %q, where nothing is", page, n.Data, address)
		}
	}
}

func harmlessTable(t *testing.T, name string, data []byte) {
	t.Helper()
	rows, err := csv.NewReader(bytes.NewReader(bytes.TrimPrefix(data, []byte("\ufeff")))).ReadAll()
	if err != nil {
		t.Errorf("%s: %v", name, err)
	}
	for _, row := range rows {
		for _, cell := range row {
			shown := strings.TrimLeft(cell, " \u00a0\u3000")
			if r, _ := utf8.DecodeRuneInString(shown); shown != "" && strings.ContainsRune("=+-@＝＋－＠\t\r\n", r) {
				t.Errorf("%s: the cell %.60q begins a formula", name, cell)
			}
		}
	}
}

// markupOf gives what XML is made of, as far as it can be read.
func markupOf(t *testing.T, name string, data []byte) iter.Seq[xml.Token] {
	return func(yield func(xml.Token) bool) {
		for d := xml.NewDecoder(bytes.NewReader(data)); ; {
			token, err := d.Token()
			if err != nil && !errors.Is(err, io.EOF) {
				t.Errorf("%s: %v", name, err)
			}
			if err != nil || !yield(token) {
				return
			}
		}
	}
}

// harmlessDrawing takes a drawing apart by itself, without the checks' own eyes.
func harmlessDrawing(t *testing.T, name string, data []byte) {
	t.Helper()
	for token := range markupOf(t, name, data) {
		if _, is := token.(xml.Directive); is {
			t.Errorf("%s has a document type", name)
		}
		element, is := token.(xml.StartElement)
		if !is {
			continue
		}
		switch strings.ToLower(element.Name.Local) {
		case "script", "foreignobject", "iframe", "object", "embed", "handler", "set", "animate", "a", "audio", "video", "feimage", "link":
			t.Errorf("%s holds <%s>", name, element.Name.Local)
		}
		for _, a := range element.Attr {
			value := strings.ToLower(strings.TrimSpace(a.Value))
			reference := a.Name.Local == "href" || a.Name.Local == "src"
			if strings.HasPrefix(strings.ToLower(a.Name.Local), "on") || reference && !strings.HasPrefix(value, "#") && !strings.HasPrefix(value, "data:image/png;") && !strings.HasPrefix(value, "data:image/jpeg;") {
				t.Errorf("%s holds %s=%q", name, a.Name.Local, a.Value)
			}
		}
	}
}

// harmlessFeed wants text alone in a feed and a sitemap, and addresses that
// readers may follow.
func harmlessFeed(t *testing.T, name string, data []byte) {
	t.Helper()
	for token := range markupOf(t, name, data) {
		element, is := token.(xml.StartElement)
		if !is {
			continue
		}
		for _, a := range element.Attr {
			u, err := url.Parse(a.Value)
			if a.Name.Local == "href" && (err != nil || u.Scheme != "" && u.Scheme != "https" && u.Scheme != "http") || a.Name.Local == "type" && strings.Contains(a.Value, "html") && element.Name.Local != "link" {
				t.Errorf("%s holds <%s %s=%q>", name, element.Name.Local, a.Name.Local, a.Value)
			}
		}
	}
}
