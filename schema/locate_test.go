package schema_test

import (
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"yearmark/schema"
	"yearmark/testdata/need"
)

// shapes are ways to write YAML that records of our own do not use.
var shapes = []string{
	"---\r\nrecord: page\r\ntitle: \"a\"\r\nlist:\r\n- x # why\r\n- y\r\n---\r\n",
	"\xef\xbb\xbf---\nrecord: page\ntitle: Über 'all'\n---\n",
	"---\ntitle: \"é\\\"q\"\nsingle: 'it''s'\nbare: this is\n  folded\n\n  text # said\nnext: x\n---\n",
	"---\nempty:\nlist: [ a , \"b, c\", 'd' , ]\nkeys: {a: , b: {c: [1, [2, 3]]}, \"d e\": f}\nnone: []\nno: {}\n---\n",
	"---\nblock: |\n  one\n    two\n\n  three\n\nfold: >-\n  four\n  five\nafter: six\n---\n",
	"---\nlist:\n  - id: a\n    note: |\n      text\n    tail: b\n  - - nested\n    - again\n  -\n    id: c\n---\n",
	"---\nwide: [a,\n  # a remark, with ] in it\n  b # another }\n  ]\nend: yes\n---\n",
	"---\nspans: {a: 1968?, b: [1?, 2]}\n? odd\n: key\n---\n",
	"---\nurl: https://bows.example.org/a#b\nrange: 7 1/4..7 3/4 in\ndeep: {x: {y: {z: [{w: v}]}}}\n---\n",
}

func records(t *testing.T) map[string]string {
	t.Helper()
	all := map[string]string{}
	for i, s := range shapes {
		all[fmt.Sprintf("pages/shape-%d.md", i)] = s
	}
	root := filepath.Join(need.Root(t), "content")
	err := filepath.WalkDir(root, func(path string, e fs.DirEntry, err error) error {
		if err == nil && strings.HasSuffix(path, ".md") && filepath.Dir(path) != root {
			var data []byte
			data, err = os.ReadFile(path)
			file, _ := filepath.Rel(root, path)
			all[filepath.ToSlash(file)] = string(data)
		}
		return err
	})
	if err != nil || len(all) < 100 {
		t.Fatalf("%d records, %v", len(all), err)
	}
	return all
}

// values lists every text of a record under the way that leads to it.
func values(l *schema.Located, way string, visit func(way string, l *schema.Located)) {
	switch l.Kind {
	case schema.LocatedText:
		visit(way, l)
	case schema.LocatedList:
		for i, item := range l.Items {
			values(item, fmt.Sprintf("%s[%d]", way, i), visit)
		}
	case schema.LocatedKeys:
		for _, k := range l.Keys {
			values(k.Value, way+"."+k.Name, visit)
		}
	}
}

func read(t *testing.T, file, source string) map[string]string {
	t.Helper()
	l, err := schema.Locate(file, []byte(source))
	if err != nil {
		t.Fatalf("%v in:\n%s", err, source)
	}
	all := map[string]string{}
	values(l, "", func(way string, l *schema.Located) { all[way] = l.Text })
	return all
}

// TestLocateCoversWhatIsWritten exchanges each text of each record for another,
// by its bytes alone: that text must then read as the other, and all else as before.
func TestLocateCoversWhatIsWritten(t *testing.T) {
	const other = `"exchanged, \"quoted\""`
	exchanged := 0
	for file, source := range records(t) {
		located, err := schema.Locate(file, []byte(source))
		if err != nil {
			t.Errorf("%s: %v", file, err)
			continue
		}
		before := read(t, file, source)
		values(located, "", func(way string, l *schema.Located) {
			if len(before) > 60 && exchanged%7 != 0 {
				exchanged++
				return // long records: every seventh text
			}
			exchanged++
			text := other
			if l.Start == l.End || l.Style == '|' || l.Style == '>' {
				text = " " + other
			}
			want := map[string]string{}
			for k, v := range before {
				want[k] = v
			}
			want[way] = `exchanged, "quoted"`
			got := read(t, file, source[:l.Start]+text+source[l.End:])
			if d := cmp.Diff(want, got); d != "" {
				t.Errorf("%s%s (%q):\n%s", file, way, source[l.Start:l.End], d)
			}
		})
	}
	if exchanged < 1000 {
		t.Errorf("only %d texts exchanged", exchanged)
	}
}

// TestLocateCoversWhole cuts lists and keys out by their bytes: what is left
// reads as before without them.
func TestLocateCoversWhole(t *testing.T) {
	for file, source := range records(t) {
		located, err := schema.Locate(file, []byte(source))
		if err != nil {
			t.Fatal(err)
		}
		for _, k := range located.Keys {
			if k.Name != strings.Trim(source[k.Start:k.End], `"'`) {
				t.Errorf("%s: the key %q is located at %q", file, k.Name, source[k.Start:k.End])
			}
			if k.Value.Kind == schema.LocatedText || !k.Value.Flow {
				continue
			}
			got := read(t, file, source[:k.Value.Start]+"gone"+source[k.Value.End:])
			want := read(t, file, source)
			for way := range want {
				if way == "."+k.Name || strings.HasPrefix(way, "."+k.Name+".") || strings.HasPrefix(way, "."+k.Name+"[") {
					delete(want, way)
				}
			}
			want["."+k.Name] = "gone"
			if d := cmp.Diff(want, got); d != "" {
				t.Errorf("%s.%s:\n%s", file, k.Name, d)
			}
		}
	}
}

func TestLocateRefuses(t *testing.T) {
	for _, source := range []string{"", "no fence", "---\n---\n", "---\na: [\n---\n", "---\na: &x 1\nb: *x\n---\n", "---\na: \x00\n---\n", "---\na: \xff\n---\n"} {
		if l, err := schema.Locate("pages/x.md", []byte(source)); err == nil {
			t.Errorf("%q was located: %+v", source, l)
		}
	}
}

// FuzzLocate holds every place to lie within the file and within what holds it.
func FuzzLocate(f *testing.F) {
	for _, s := range shapes {
		f.Add([]byte(s))
	}
	f.Fuzz(func(t *testing.T, source []byte) {
		l, err := schema.Locate("pages/x.md", source)
		if err != nil {
			return
		}
		within(t, l, 0, len(source))
	})
}

func within(t *testing.T, l *schema.Located, start, end int) {
	if l.Start < start || l.End > end || l.Start > l.End {
		t.Fatalf("a value at %d..%d lies outside %d..%d", l.Start, l.End, start, end)
	}
	for _, item := range l.Items {
		within(t, item, l.Start, l.End)
	}
	for _, k := range l.Keys {
		if k.Start < l.Start || k.End > l.End || k.Start > k.End {
			t.Fatalf("the key %q at %d..%d lies outside %d..%d", k.Name, k.Start, k.End, l.Start, l.End)
		}
		within(t, k.Value, l.Start, l.End)
	}
}
