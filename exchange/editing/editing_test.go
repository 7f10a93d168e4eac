package editing

import (
	"bytes"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"yearmark/schema"
	"yearmark/testdata/need"
)

const model = `---
# the plover, as the lists have it
record: model
name: Plover   # its name
maker: 'halvane'
made: {span: 1958/1971, cites: ["list-1958, p. 2"]}
features:
  # the woods
  - feature: riser-wood
    value: padauk
    span: 1965      # one year
    cites:
      - "list-1965, p. 6"   # the page
      - "letter-1998"
  - {feature: maker-mark, value: oval, span: 1960, cites: ["list-1960"]}
related: [{model: dunlin, how: succeeded-by}]
---

Text.
`

func TestOneValueAtATime(t *testing.T) {
	path := func(s string) []string { return strings.Split(s, "/") }
	for _, c := range []struct {
		name string
		do   func([]byte) ([]byte, error)
		want string // the lines that differ
	}{
		{"a text", func(b []byte) ([]byte, error) { return Set("models/p.md", b, path("name"), Word("Grey plover")) }, "-name: Plover   # its name\n+name: Grey plover   # its name\n"},
		{"quotes stay", func(b []byte) ([]byte, error) { return Set("models/p.md", b, path("maker"), Word("ann's")) }, "-maker: 'halvane'\n+maker: 'ann''s'\n"},
		{"a value of a claim", func(b []byte) ([]byte, error) { return Set("models/p.md", b, path("features/0/span"), Word("1965?")) }, "-    span: 1965      # one year\n+    span: 1965?      # one year\n"},
		{"a key that was not there", func(b []byte) ([]byte, error) { return Set("models/p.md", b, path("features/1/note"), Word("seen")) }, `-  - {feature: maker-mark, value: oval, span: 1960, cites: ["list-1960"]}
+  - {feature: maker-mark, value: oval, span: 1960, cites: ["list-1960"], note: seen}
`},
		{"an item of a list", func(b []byte) ([]byte, error) {
			return Set("models/p.md", b, path("features/0/cites/1"), Quoted("letter-1999"))
		}, "-      - \"letter-1998\"\n+      - \"letter-1999\"\n"},
		{"one item more", func(b []byte) ([]byte, error) { return Add("models/p.md", b, path("features/0/cites"), Quoted("x-1")) }, "+      - \"x-1\"\n"},
		{"one item more in brackets", func(b []byte) ([]byte, error) { return Add("models/p.md", b, path("made/cites"), Quoted("x-1")) }, `-made: {span: 1958/1971, cites: ["list-1958, p. 2"]}
+made: {span: 1958/1971, cites: ["list-1958, p. 2", "x-1"]}
`},
		{"a new list", func(b []byte) ([]byte, error) {
			return Add("models/p.md", b, path("specs"), Mapping().With("spec", Word("draw-weight")).With("range", Word("30..40 lb")))
		}, "+specs:\n+  - {spec: draw-weight, range: 30..40 lb}\n"},
		{"citations", func(b []byte) ([]byte, error) {
			return Set("models/p.md", b, path("related/0/cites"), Citations([]string{"a, p. 1"}))
		}, "-related: [{model: dunlin, how: succeeded-by}]\n+related: [{model: dunlin, how: succeeded-by, cites: [\"a, p. 1\"]}]\n"},
		{"an item goes with its remark", func(b []byte) ([]byte, error) { return Remove("models/p.md", b, path("features/0/cites/0")) }, "-      - \"list-1965, p. 6\"   # the page\n"},
		{"the last item takes its key along", func(b []byte) ([]byte, error) { return Remove("models/p.md", b, path("made/cites/0")) }, `-made: {span: 1958/1971, cites: ["list-1958, p. 2"]}
+made: {span: 1958/1971}
`},
		{"a key", func(b []byte) ([]byte, error) { return Remove("models/p.md", b, path("related")) }, "-related: [{model: dunlin, how: succeeded-by}]\n"},
	} {
		for _, wrap := range []func(string) string{
			func(s string) string { return s },
			func(s string) string { return "\ufeff" + strings.ReplaceAll(s, "\n", "\r\n") },
		} {
			source := wrap(model)
			got, err := c.do([]byte(source))
			if err != nil {
				t.Errorf("%s: %v", c.name, err)
				continue
			}
			if d := cmp.Diff(wrap(c.want), differing(source, string(got))); d != "" && !strings.HasPrefix(source, "\ufeff") {
				t.Errorf("%s: %s", c.name, d)
			} else if strings.ReplaceAll(differing(source, string(got)), "\r", "") != c.want {
				t.Errorf("%s with CRLF: %q", c.name, got)
			}
			if strings.Count(string(got), "\n") != strings.Count(string(got), "\r\n") && source[0] != '-' {
				t.Errorf("%s: line ends are mixed: %q", c.name, got)
			}
		}
	}
}

// differing gives the lines that only one of two files has, those before first.
func differing(a, b string) string {
	x, y := strings.SplitAfter(a, "\n"), strings.SplitAfter(b, "\n")
	for len(x) > 0 && len(y) > 0 && x[0] == y[0] {
		x, y = x[1:], y[1:]
	}
	for len(x) > 0 && len(y) > 0 && x[len(x)-1] == y[len(y)-1] {
		x, y = x[:len(x)-1], y[:len(y)-1]
	}
	var out strings.Builder
	for _, line := range x {
		out.WriteString("-" + line)
	}
	for _, line := range y {
		out.WriteString("+" + line)
	}
	return out.String()
}

func TestEditingRefuses(t *testing.T) {
	for _, c := range []struct {
		path []string
		file string
		want string
	}{
		{nil, model, "no value of models/p.md is named"},
		{[]string{"name", "x"}, model, "there is no place for the value"},
		{[]string{"features", "9"}, model, "there is no place for the value"},
		{[]string{"features", "x", "span"}, model, "there is no place for the value"},
		{[]string{"name"}, "no record", "the keys of models/p.md are not written one to a line"},
	} {
		if got, err := Set("models/p.md", []byte(c.file), c.path, Word("x")); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%v: %q, %v; want %q", c.path, got, err, c.want)
		}
	}
	if _, err := Remove("models/p.md", []byte(model), []string{"nothing"}); err == nil {
		t.Error("what is not there is taken away")
	}
}

// place is a text of a record and the path to it.
type place struct {
	path []string
	node *schema.Located
}

func places(list []place, path []string, l *schema.Located) []place {
	if l.Kind == schema.LocatedText && len(path) > 0 {
		list = append(list, place{slices.Clone(path), l})
	}
	for i, item := range l.Items {
		list = places(list, append(path, strconv.Itoa(i)), item)
	}
	for _, k := range l.Keys {
		list = places(list, append(path, k.Name), k.Value)
	}
	return list
}

// TestAnEditTouchesItsValueAlone changes a value drawn from every record of the
// demonstration, with either line end and a byte-order mark or none: all before
// and after it stays byte for byte, it reads as was asked, and what is put
// back as it read before reads as before.
func TestAnEditTouchesItsValueAlone(t *testing.T) {
	files, err := filepath.Glob(filepath.Join(need.Root(t), "content", "*", "*.md"))
	if err != nil || len(files) < 100 {
		t.Fatal(len(files), err)
	}
	rapid.Check(t, func(t *rapid.T) {
		path := rapid.SampledFrom(files).Draw(t, "file")
		source, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		if rapid.Bool().Draw(t, "crlf") {
			source = bytes.ReplaceAll(source, []byte("\n"), []byte("\r\n"))
		}
		if rapid.Bool().Draw(t, "mark") {
			source = append([]byte("\ufeff"), source...)
		}
		file := filepath.Base(filepath.Dir(path)) + "/" + filepath.Base(path)
		top, err := schema.Locate(file, source)
		if err != nil {
			t.Fatal(err)
		}
		p := rapid.SampledFrom(places(nil, nil, top)).Draw(t, "place")
		text := rapid.StringOfN(rapid.SampledFrom([]rune("aB1 :#-?,[]{}&*!|>'\"%@`\\/=+~é“½•")), 1, 12, -1).Draw(t, "text")
		after, err := Set(file, source, p.path, Word(text))
		if err != nil {
			t.Fatal(err)
		}
		head, tail := source[:p.node.Start], source[p.node.End:]
		if !bytes.HasPrefix(after, head) || !bytes.HasSuffix(after, tail) || len(after) < len(head)+len(tail) {
			t.Fatalf("more than %v was touched:\n%s", p.path, after)
		}
		now, err := schema.Locate(file, after)
		if err != nil {
			t.Fatal(err)
		}
		if got := Node(now, p.path...); got == nil || got.Text != text {
			t.Fatalf("%v reads %+v, want %q", p.path, got, text)
		}
	})
}
