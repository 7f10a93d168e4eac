package schema

import (
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
	"testing/fstest"
)

// The files testdata/*.txtar hold small references, one a case: the first part
// of a file's name is the case, the rest its path. Every case stands among the
// records of base.txtar. What must be found stands on the line itself as
//
//	# want CHECK "part of the message"
//
// or, where a comment cannot stand, above the files as
//
//	want CASE/FILE:LINE:COLUMN CHECK "part of the message"
//
// with the column and the line left out where there are none. Everything
// wanted must be found and nothing else. A case with findings has a silent
// twin, which is called the same with ".ok" at the end. After a file's name
// (crlf), (bom) and (bytes) ask for line ends of Windows, a byte-order mark,
// and \x00 escapes.

// want is one finding that a fixture wants.
type want struct {
	at    string // file, or file:line, or file:line:column
	check string
	part  string
	met   bool
}

// fixture is one case.
type fixture struct {
	files fstest.MapFS
	wants []*want
}

var (
	inlineWant = regexp.MustCompile(`# want ((?:\S+ "(?:[^"\\]|\\.)*" ?)+)`)
	oneWant    = regexp.MustCompile(`(\S+) ("(?:[^"\\]|\\.)*")`)
	headWant   = regexp.MustCompile(`^want ([^/]+)/(\S+) (\S+) ("(?:[^"\\]|\\.)*")$`)
)

// archive is a text archive: a comment, then files, each after a line "-- name --".
type archive struct {
	comment string
	files   []archived
}

type archived struct{ name, data string }

func readArchive(t *testing.T, file string) archive {
	t.Helper()
	text, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	var a archive
	to := &a.comment
	for line := range strings.Lines(string(text)) {
		name, isMark := strings.CutPrefix(strings.TrimSuffix(line, "\n"), "-- ")
		if name, ends := strings.CutSuffix(name, " --"); isMark && ends {
			a.files = append(a.files, archived{name: name})
			to = &a.files[len(a.files)-1].data
			continue
		}
		*to += line
	}
	return a
}

func fixturesOf(t *testing.T, file string) map[string]*fixture {
	t.Helper()
	base := readArchive(t, "testdata/base.txtar")
	from := readArchive(t, file)
	cases := map[string]*fixture{}
	for _, f := range from.files {
		name, flags, _ := strings.Cut(f.name, " ")
		id, path, _ := strings.Cut(name, "/")
		c := cases[id]
		if c == nil {
			c = &fixture{files: fstest.MapFS{}}
			for _, b := range base.files {
				c.files[b.name] = &fstest.MapFile{Data: []byte(b.data)}
			}
			cases[id] = c
		}
		c.files[path] = &fstest.MapFile{Data: transformed(t, f.data, flags)}
		c.inline(path, f.data)
	}
	for line := range strings.SplitSeq(from.comment, "\n") {
		if !strings.HasPrefix(line, "want ") {
			continue
		}
		m := headWant.FindStringSubmatch(line)
		if m == nil || cases[m[1]] == nil {
			t.Fatalf("%s: cannot read %q", file, line)
		}
		part, err := strconv.Unquote(m[4])
		if err != nil {
			t.Fatal(err)
		}
		cases[m[1]].wants = append(cases[m[1]].wants, &want{at: m[2], check: m[3], part: part})
	}
	return cases
}

func transformed(t *testing.T, s, flags string) []byte {
	t.Helper()
	if strings.Contains(flags, "(bytes)") {
		s = regexp.MustCompile(`\\x[0-9a-f]{2}`).ReplaceAllStringFunc(s, func(e string) string {
			b, err := strconv.ParseUint(e[2:], 16, 8)
			if err != nil {
				t.Fatal(err)
			}
			return string([]byte{byte(b)})
		})
	}
	if strings.Contains(flags, "(crlf)") {
		s = strings.ReplaceAll(s, "\n", "\r\n")
	}
	if strings.Contains(flags, "(bom)") {
		s = "\ufeff" + s
	}
	return []byte(s)
}

func (c *fixture) inline(path, data string) {
	line := 0
	for text := range strings.SplitSeq(data, "\n") {
		line++
		m := inlineWant.FindStringSubmatch(text)
		if m == nil {
			continue
		}
		for _, w := range oneWant.FindAllStringSubmatch(m[1], -1) {
			part, _ := strconv.Unquote(w[2])
			c.wants = append(c.wants, &want{at: fmt.Sprintf("%s:%d", path, line), check: w[1], part: part})
		}
	}
}

func (w *want) meets(p Problem) bool {
	at := p.Pos.String()
	return !w.met && w.check == p.Check && strings.Contains(p.Message, w.part) &&
		(at == w.at || p.Pos.Line() > 0 && fmt.Sprintf("%s:%d", p.Pos.File(), p.Pos.Line()) == w.at)
}

func TestFixtures(t *testing.T) {
	files, err := filepath.Glob("testdata/*.txtar")
	if err != nil || len(files) < 2 {
		t.Fatal("no fixtures", err)
	}
	seen := map[string]bool{}
	for _, file := range files {
		cases := fixturesOf(t, file)
		if filepath.Base(file) == "base.txtar" {
			continue
		}
		for _, id := range slices.Sorted(maps.Keys(cases)) {
			c := cases[id]
			t.Run(strings.TrimSuffix(filepath.Base(file), ".txtar")+"/"+id, func(t *testing.T) {
				c.run(t)
			})
			if _, silent := cases[id+".ok"]; len(c.wants) > 0 && !silent {
				t.Errorf("%s: the case %s has no silent twin %s.ok", file, id, id)
			}
			if len(c.wants) > 0 == strings.HasSuffix(id, ".ok") {
				t.Errorf("%s: the case %s wants the wrong number of findings", file, id)
			}
			for _, w := range c.wants {
				seen[w.check] = true
			}
		}
	}
	for _, check := range ReadingChecks {
		if !seen[check] && !shownElsewhere[check] {
			t.Errorf("no fixture shows the check %q", check)
		}
	}
}

// shownElsewhere are the checks whose fixtures are too large for a text file,
// or need a real folder; read_test.go has them.
var shownElsewhere = map[string]bool{CheckTooLarge: true, CheckOutsideFolder: false}

func (c *fixture) run(t *testing.T) {
	_, problems, err := ReadFS(c.files, "the case")
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range problems {
		found := false
		for _, w := range c.wants {
			if found = w.meets(p); found {
				w.met = true
				break
			}
		}
		if !found {
			t.Errorf("not wanted: %s %s %q (help: %s)", p.Pos, p.Check, p.Message, p.Help)
		}
		if os.Getenv("YEARMARK_SHOW") != "" {
			t.Logf("%s %s %s | %s", p.Pos, p.Check, p.Message, p.Help)
		}
		holdsHouseStyle(t, p)
	}
	for _, w := range c.wants {
		if !w.met {
			t.Errorf("not found: %s %s %q", w.at, w.check, w.part)
		}
	}
}

var quotedText = regexp.MustCompile(`"(\\.|[^"\\])*"`)

// holdsHouseStyle wants a message in lower case without a full stop, and a
// remedy that is a sentence.
func holdsHouseStyle(t *testing.T, p Problem) {
	t.Helper()
	if p.Message == "" || strings.HasSuffix(p.Message, ".") || p.Message[0] >= 'A' && p.Message[0] <= 'Z' {
		t.Errorf("%s: the message %q is not in the house style", p.Check, p.Message)
	}
	if words := len(strings.Fields(quotedText.ReplaceAllString(p.Message, "x"))); words > 20 {
		t.Errorf("%s: the message %q has %d words", p.Check, p.Message, words)
	}
	if p.Help == "" || p.Help[0] < 'A' || p.Help[0] > 'Z' {
		t.Errorf("%s: the remedy %q is no sentence", p.Check, p.Help)
	}
	if p.Pos.File() == "" {
		t.Errorf("%s: %q names no file", p.Check, p.Message)
	}
	if !slices.Contains(ReadingChecks, p.Check) {
		t.Errorf("%q is not among ReadingChecks", p.Check)
	}
}
