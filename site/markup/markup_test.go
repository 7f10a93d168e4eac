package markup

import (
	"html/template"
	"strings"
	"testing"

	"golang.org/x/net/html"
)

// frame is the same mark-up as frameTemplate, by a Writer.
func frame(text, attribute, address string) string {
	w := New(64)
	w.Tag(`<p title="`).Text(attribute).Tag(`"><a href="`).Address(address).Tag(`">`).Text(text).Tag(`</a></p>`)
	return string(w.Done())
}

var frameTemplate = template.Must(template.New("").Parse(`<p title="{{.Attribute}}"><a href="{{.Address}}">{{.Text}}</a></p>`))

// FuzzEscapes: whatever stands in a record, a browser's parser sees one
// paragraph with one link, the words and the attribute come back as they were,
// no address runs anything, and html/template, run beside it, shows the same
// words and the same attribute.
func FuzzEscapes(f *testing.F) {
	for _, seed := range []string{
		"", "plain", `"><script>alert(1)</script>`, "'onclick='x", "&amp;&lt;", "<!--", "javascript:alert(1)", " JAVASCRIPT:x", "java\tscript:x",
		"data:text/html,x", "a/b:c", "?x:y", "#x:y", "http://example.org/\"", "\x00", "\u2028", "]]>", "mailto:a@b", "vbscript:x", "models/a.html#b", "//x", "x:y",
	} {
		f.Add(seed, seed, seed)
	}
	f.Fuzz(func(t *testing.T, text, attribute, address string) {
		got := frame(text, attribute, address)
		p, a := parse(t, got)
		if words := textOf(a); words != seen(text) {
			t.Fatalf("words %q came back as %q", text, words)
		}
		if title := valueOf(p, "title"); title != seen(attribute) {
			t.Fatalf("attribute %q came back as %q", attribute, title)
		}
		href := strings.ToLower(strings.Map(dropControls, valueOf(a, "href")))
		for _, bad := range []string{"javascript:", "data:", "vbscript:", "file:"} {
			if strings.HasPrefix(href, bad) {
				t.Fatalf("the address %q came through as %q", address, href)
			}
		}
		var other strings.Builder
		err := frameTemplate.Execute(&other, struct{ Text, Attribute, Address string }{text, attribute, address})
		if err != nil {
			t.Fatal(err)
		}
		op, oa := parse(t, other.String())
		if textOf(oa) != textOf(a) || valueOf(op, "title") != valueOf(p, "title") {
			t.Fatalf("html/template writes %s, this package %s", other.String(), got)
		}
	})
}

// seen is what an HTML parser makes of text that was written faithfully: new
// lines are joined, and a null cannot be shown.
func seen(s string) string {
	return strings.NewReplacer("\r\n", "\n", "\r", "\n", "\x00", "\uFFFD").Replace(s)
}

// dropControls leaves out what a browser drops from the head of an address.
func dropControls(r rune) rune {
	if r <= ' ' {
		return -1
	}
	return r
}

// parse finds the paragraph and its link, and fails on anything else.
func parse(t *testing.T, text string) (p, a *html.Node) {
	t.Helper()
	tree, err := html.Parse(strings.NewReader(text))
	if err != nil {
		t.Fatal(err)
	}
	for n := range tree.Descendants() {
		if n.Type == html.CommentNode {
			t.Fatalf("a comment in %q", text)
		}
		if n.Type != html.ElementNode {
			continue
		}
		switch n.Data {
		case "html", "head", "body":
		case "p":
			p = n
		case "a":
			a = n
		default:
			t.Fatalf("the element %s in %q", n.Data, text)
		}
	}
	if p == nil || a == nil || len(p.Attr) != 1 || len(a.Attr) != 1 {
		t.Fatalf("not one paragraph with one link: %q", text)
	}
	return p, a
}

func valueOf(n *html.Node, key string) string {
	for _, at := range n.Attr {
		if at.Key == key {
			return at.Val
		}
	}
	return ""
}

func textOf(n *html.Node) string {
	var b strings.Builder
	for c := range n.Descendants() {
		if c.Type == html.TextNode {
			b.WriteString(c.Data)
		}
	}
	return b.String()
}

func TestAddresses(t *testing.T) {
	for address, want := range map[string]string{
		"models/plover.html#a": "models/plover.html#a", "../x?y=1&z=2": "../x?y=1&amp;z=2", "javascript:x": "#unsafe", "JavaScript:x": "#unsafe",
		"date.html#ask=a:b": "date.html#ask=a:b", "https://example.org/": "https://example.org/", " javascript:x": "#unsafe", "a:b": "#unsafe",
	} {
		if got := string(New(0).Address(address).Done()); got != want {
			t.Errorf("the address %q is written %q, want %q", address, got, want)
		}
	}
}

// TestTemplateStandsAmongTags writes a template's words between tags, escaped
// as html/template does, and takes back what came after.
func TestTemplateStandsAmongTags(t *testing.T) {
	w := New(0)
	w.Tag(`<b>`)
	if err := w.Template(template.Must(template.New("").Parse(`<a title="{{.}}">{{.}}</a>`)), `"<i>`); err != nil {
		t.Fatal(err)
	}
	whole := w.Tag(`</b>`).Len()
	w.Text("gone").Back(whole)
	const want = `<b><a title="&#34;&lt;i&gt;">&#34;&lt;i&gt;</a></b>`
	if got := string(w.Bytes()); got != want || len(got) != whole {
		t.Errorf("%s, %d bytes", got, whole)
	}
	if err := w.Template(template.Must(template.New("").Option("missingkey=error").Parse(`{{.gone}}`)), map[string]string{}); err == nil {
		t.Error("a template that fails tells nothing")
	}
}
