package schema

import (
	"bytes"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"unicode/utf8"
)

// FuzzRecord: whatever a file holds, reading it ends without a panic, and
// every problem has a place within the file.
func FuzzRecord(f *testing.F) {
	f.Add(uint8(0), []byte(""))
	f.Add(uint8(1), []byte("\ufeff---\r\nrecord: model\r\n---\r\n"))
	f.Add(uint8(1), []byte("---\nrecord: model\nfeatures:\n  - {feature: a, value: b?, span: 196X?, cites: [a, p. 6]}\n---\n"))
	f.Add(uint8(2), []byte("---\n? a\n: b\n---\n"))
	f.Add(uint8(3), []byte("---\n<<: *a\nx: &a !!binary ''\n---\n"))
	f.Add(uint8(4), []byte("---\nprivate: {a: |\n  b\n---\n"))
	for _, file := range seeds(f) {
		f.Add(file.kind, file.text)
	}
	f.Fuzz(func(t *testing.T, kind uint8, source []byte) {
		k := Kinds[int(kind)%len(Kinds)]
		r, problems := ReadRecord(k.Folder()+"/a.md", source)
		for _, p := range problems {
			within(t, source, p)
		}
		if r == nil {
			if len(problems) == 0 {
				t.Error("there is neither a record nor a problem")
			}
			return
		}
		if h := r.Header(); h.Kind != k || h.ID != "a" || !bytes.Equal(h.Source, source) || h.Body.Pos.Line() < 2 {
			t.Errorf("the head is %s %q, body at %s", h.Kind, h.ID, h.Body.Pos)
		}
		_, more := Assemble("x", Settings{}, []Record{r}, Media{})
		for _, p := range more {
			within(t, source, p)
		}
	})
}

// FuzzSettings does the same for reference.yaml.
func FuzzSettings(f *testing.F) {
	f.Add([]byte("---\nname: A\nyears: 1930/1985\n"))
	f.Add([]byte("years: [1930\njudgement: {credence: {web: 1/0}}"))
	f.Fuzz(func(t *testing.T, source []byte) {
		s, problems := ReadSettings(source)
		for _, p := range problems {
			within(t, source, p)
		}
		if len(s.Judgement.Credence) != len(SourceKinds) {
			t.Errorf("credence of %d kinds", len(s.Judgement.Credence))
		}
	})
}

// within wants a problem to be told in full, at a place of the file.
func within(t *testing.T, source []byte, p Problem) {
	t.Helper()
	holdsHouseStyle(t, p)
	if p.Pos.Line() == 0 && p.Check == CheckBadIdentifier {
		return
	}
	lines := strings.Split(string(withoutMark(source)), "\n")
	if p.Pos.Line() < 1 || p.Pos.Line() > len(lines)+1 || p.Pos.Column() < 1 {
		t.Errorf("%s %s: no such line in %d", p.Pos, p.Check, len(lines))
		return
	}
	if p.Pos.Line() <= len(lines) && p.Pos.Column() > utf8.RuneCountInString(lines[p.Pos.Line()-1])+1 {
		t.Errorf("%s %s: no such column", p.Pos, p.Check)
	}
	for _, why := range p.Why {
		if why.Pos.IsZero() || why.Message == "" {
			t.Errorf("%s %s: a further place is empty", p.Pos, p.Check)
		}
	}
}

type seed struct {
	kind uint8
	text []byte
}

// seeds are the files of the fixtures.
func seeds(f *testing.F) []seed {
	var all []seed
	files, err := filepath.Glob("testdata/*.txtar")
	if err != nil {
		f.Fatal(err)
	}
	for _, file := range files {
		text, err := os.ReadFile(file)
		if err != nil {
			f.Fatal(err)
		}
		for i, part := range strings.Split(string(text), "\n-- ") {
			_, body, _ := strings.Cut(part, " --\n")
			all = append(all, seed{uint8(i), []byte(body)})
		}
	}
	return all
}

// FuzzCitation: whatever is written for a citation is either one whose source
// can be a file name, with the place as it was written, or is refused in a
// sentence with its remedy and its place within the text.
func FuzzCitation(f *testing.F) {
	for _, text := range []string{
		"halvane-list-1964, p. 6", "example-0007", "example-0007, mark", "a", "", ",", " , ", "p. 6", "A List, p. 6", "a,b,c", "../a, p. 1",
		"-a, p. 1", "a-", "é, p. 1", "a\x00, p. 1", "<script>, p. 1", "a, \"><script>", "constructor, p. 1", "a;b", "a\n, p. 1", "a, p. 1\u202e",
		strings.Repeat("a", maxIdentifier+1) + ", p. 1",
	} {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		at := At("models/a.md", 3, 7)
		c, err := ParseCitation(text, at)
		if err != nil {
			var m *Malformed
			if !errors.As(err, &m) || m.Check != CheckMalformedCite || m.Message == "" || m.Help == "" || m.Offset < 0 || m.Offset > len(text) || c != (Citation{}) {
				t.Fatalf("%q is refused with %#v and gives %+v", text, err, c)
			}
			return
		}
		if !isIdentifier(c.Source) || c.Pos != at || strings.TrimSpace(c.Place) != c.Place || !strings.Contains(text, c.Source) || !strings.Contains(text, c.Place) {
			t.Fatalf("%q gives %+v", text, c)
		}
		if id, ok := c.ExampleID(); ok && "example-"+id != c.Source {
			t.Fatalf("%q cites the example %q", text, id)
		}
		whole := c.Source
		if c.Place != "" {
			whole += ", " + c.Place
		}
		if again, err := ParseCitation(whole, at); err != nil || again != c {
			t.Fatalf("%q comes back as %+v, %v, not %+v", whole, again, err, c)
		}
	})
}
