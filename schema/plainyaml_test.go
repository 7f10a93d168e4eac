package schema

import (
	"fmt"
	"path/filepath"
	"strings"
	"testing"
	"unicode/utf8"

	"go.yaml.in/yaml/v3"
)

// sameNodes wants two trees alike in all that the reader looks at.
func sameNodes(a, b *yaml.Node, path string) error {
	if a.Kind != b.Kind || a.Value != b.Value || a.Style != b.Style || a.Line != b.Line || a.Column != b.Column || len(a.Content) != len(b.Content) {
		return fmt.Errorf("%s: ours is %s, the library's %s", path, shown(a), shown(b))
	}
	if isNull(a) != isNull(b) || b.Anchor != "" || b.Tag == "!!merge" {
		return fmt.Errorf("%s: ours is %s, the library's %s", path, shown(a), shown(b))
	}
	for i := range a.Content {
		if err := sameNodes(a.Content[i], b.Content[i], fmt.Sprintf("%s/%d", path, i)); err != nil {
			return err
		}
	}
	return nil
}

func shown(n *yaml.Node) string {
	return fmt.Sprintf("kind %d style %d %q at %d:%d with %d", n.Kind, n.Style, n.Value, n.Line, n.Column, len(n.Content))
}

// heldAgainstLibrary compares, where our parser answers, and says whether it did.
func heldAgainstLibrary(t *testing.T, text string) bool {
	t.Helper()
	store := &nodeStore{}
	ours := parsePlain(text, store)
	if ours == nil {
		return false
	}
	theirs, err := parseYAML([]byte(text))
	if err != nil || theirs == nil {
		t.Errorf("ours reads what the library refuses (%v): %q", err, text)
		return true
	}
	if err := sameNodes(ours, theirs, ""); err != nil {
		t.Errorf("%v in %q", err, text)
	}
	if len(store.stack) != 0 {
		t.Errorf("%d nodes were left over in %q", len(store.stack), text)
	}
	return true
}

// TestPlainYAMLOfTheDemonstration: nearly every record is read the fast way,
// and all alike.
func TestPlainYAMLOfTheDemonstration(t *testing.T) {
	ref, _, err := Read("../content")
	if err != nil {
		t.Fatal(err)
	}
	fast := 0
	records := ref.Records()
	for _, r := range records {
		if heldAgainstLibrary(t, string(frontOf(r.Header().Source))) {
			fast++
		}
	}
	if fast*10 < len(records)*9 {
		t.Errorf("only %d of %d records are read the fast way", fast, len(records))
	}
}

func TestPlainYAML(t *testing.T) {
	for _, test := range []struct {
		text string
		fast bool
	}{
		{"a: b\n", true},
		{"a: b", true},
		{"a: b\r\nc: d\r\n", true},
		{"a: b # c\n# d\n\n  # e\nc: \"d # e\"   # f\n", true},
		{"a:\n  b: c\n  d:\n    - e\n    - f: g\n      h: i\nj: k\n", true},
		{"a:\n- b\n- c\nd: e\n", true},
		{"a: [b, \"c, d\", 'e'] # f\n", true},
		{"a: {b: c, d: [e, {f: g}], h: {}}\ni: []\n", true},
		{"a: 1964-05-02\nb: 0123\nc: -1 lb\nd: +1\ne: .5\nf: ~\n", true},
		{"é: b\n", false},
		{"a: é, “ü”: c\n", false},
		{"a: é, “ü” {c}\nb: {c: ü, d: e}\n", true},
		{"a: http://x/#y\nb: [http://x/y, c:d]\n", true},
		{"a: b:\n", false},
		{"a:b\n", false},
		{"a:\n", false},
		{"a: {b: }\n", false},
		{"a: [b,]\n", false},
		{"a: [b\n  c]\n", false},
		{"a: b\n  c\n", false},
		{"a: |\n  b\n", false},
		{"a: 'it''s'\n", false},
		{"a: \"b\\n\"\n", false},
		{"a: &x b\n", false},
		{"a: *x\n", false},
		{"a: !x b\n", false},
		{"<<: b\n", false},
		{"\ta: b\n", false},
		{"a:\tb\n", false},
		{"a: b\tc\n", false},
		{"--- \na: b\n", false},
		{"a: b\n...\n", false},
		{"a: b\n---\nc: d\n", false},
		{"- a\n", false},
		{"a: - b\n", false},
		{"a:\n  - - b\n", false},
		{"a: \"b\" c\n", false},
		{"a: \"b\"#c\n", false},
		{"a: [b]#c\n", false},
		{"a: {b: c?}\n", false},
		{"a: b?\n", true},
		{"a:\n  b: c\n d: e\n", false},
		{"a:\n  - b\n c: d\n", false},
		{" a: b\n", false},
		{"", false},
		{"# a\n", false},
		{"a: [[[[[[[[[[[[[[[[[[[b]]]]]]]]]]]]]]]]]]]\n", false},
	} {
		if fast := heldAgainstLibrary(t, test.text); fast != test.fast {
			t.Errorf("%q: read the fast way: %v", test.text, fast)
		}
	}
}

// TestPlainYAMLOfTheFixtures holds it against every broken and unbroken text there is.
func TestPlainYAMLOfTheFixtures(t *testing.T) {
	files, _ := filepath.Glob("testdata/*.txtar")
	for _, file := range files {
		for _, c := range fixturesOf(t, file) {
			for _, f := range c.files {
				if front := frontOf(f.Data); utf8.Valid(front) {
					d := &decoder{}
					heldAgainstLibrary(t, string(d.oddCharacters(front, 1, true)))
				}
			}
		}
	}
}

// TestNodesAreUsedAgain: what was read from one record does not change when
// the next one is.
func TestNodesAreUsedAgain(t *testing.T) {
	first, _ := ReadRecord("pages/a.md", []byte("---\nrecord: page\ntitle: First\n---\n"))
	for range 100 {
		ReadRecord("pages/b.md", []byte("---\nrecord: page\ntitle: Second\n"+strings.Repeat("x: [y, z]\n", 400)+"---\n"))
	}
	if got := first.(*Page).Name; got.Value != "First" || got.Pos.Line() != 3 {
		t.Errorf("the first page is now called %v", got)
	}
}

// FuzzPlainYAML: where our parser answers, it answers as the library.
func FuzzPlainYAML(f *testing.F) {
	f.Add("a:\n  - {b: c, d: [e, 'f']}\n  - g: \"h\"\n    i: j # k\nl: m\n")
	for _, s := range seeds(f) {
		f.Add(string(frontOf(s.text)))
	}
	f.Fuzz(func(t *testing.T, text string) {
		if !utf8.ValidString(text) {
			return
		}
		d := &decoder{}
		heldAgainstLibrary(t, string(d.oddCharacters([]byte(text), 1, true)))
	})
}
