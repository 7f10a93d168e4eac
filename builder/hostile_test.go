package builder_test

import (
	"bufio"
	"context"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/txtar"

	"yearmark/builder"
	"yearmark/checks"
	"yearmark/schema"
	"yearmark/testdata/need"
)

// hostileCase is one bad input: base.txtar of testdata/hostile with one thing
// in it changed or added, and what has to come of it.
//
// The cases stand in the .tsv files of that folder, one a line: a name, a file
// of the reference, where in it, what is put there, and what is wanted.
// Where: ".key[0].key" sets the text there, quoted as YAML wants it;
// ".key[0].key!" sets it as YAML, unquoted; "+" adds to the end of the file;
// "*" is the whole file; "->" makes the file a symbolic link; "fifo" and
// "folder" make it that.
// What: texts in Go's quotation marks, each with "N*" before it where it is
// repeated, and the makers of pictures in hostile_pictures_test.go.
// Wanted: "harmless", published without an error; "refused CHECK" on the line
// that was changed, "refused CHECK FILE:LINE" elsewhere, "refused CHECK 0" for
// the file as a whole; "shut WORDS" where
// the folder cannot be opened at all and the message has the words. Harmless is what the whole site is held to in every case, see harmless.
type hostileCase struct {
	name, file, where, what, want string
	origin                        string // file:line, for messages
}

func hostileFolder(t testing.TB) string { return filepath.Join(need.Root(t), "testdata", "hostile") }

// hostileBase gives the files that all cases start from.
func hostileBase(t testing.TB) map[string]string {
	t.Helper()
	archive, err := txtar.ParseFile(filepath.Join(hostileFolder(t), "base.txtar"))
	if err != nil {
		t.Fatal(err)
	}
	files := map[string]string{}
	for _, f := range archive.Files {
		files[f.Name] = string(f.Data)
	}
	return files
}

func hostileCases(t testing.TB) []hostileCase {
	t.Helper()
	tables, err := filepath.Glob(filepath.Join(hostileFolder(t), "*.tsv"))
	if err != nil || len(tables) < 5 {
		t.Fatalf("%d tables of cases, %v", len(tables), err)
	}
	var all []hostileCase
	for _, table := range tables {
		all = append(all, casesOf(t, table)...)
	}
	return all
}

func casesOf(t testing.TB, table string) []hostileCase {
	f, err := os.Open(table)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	var all []hostileCase
	line := 0
	for lines := bufio.NewScanner(f); lines.Scan(); {
		line++
		text := lines.Text()
		if text == "" || strings.HasPrefix(text, "#") {
			continue
		}
		origin := fmt.Sprintf("%s:%d", filepath.Base(table), line)
		cells := strings.FieldsFunc(text, func(r rune) bool { return r == '\t' })
		if len(cells) != 5 {
			t.Fatalf("%s has %d cells: %q", origin, len(cells), text)
		}
		all = append(all, hostileCase{cells[0], unquoted(cells[1]), cells[2], cells[3], cells[4], origin})
	}
	return all
}

// unquoted reads a file's name that may stand in Go's quotation marks.
func unquoted(s string) string {
	if plain, err := strconv.Unquote(s); err == nil {
		return plain
	}
	return s
}

// spelled gives the text that a cell stands for.
func spelled(t testing.TB, cell string) string {
	t.Helper()
	var b strings.Builder
	for rest := strings.TrimSpace(cell); rest != ""; rest = strings.TrimLeft(rest, " ") {
		times := 1
		if n, after, ok := strings.Cut(rest, "*"); ok {
			if count, err := strconv.Atoi(n); err == nil {
				times, rest = count, after
			}
		}
		quoted, err := strconv.QuotedPrefix(rest)
		if err != nil {
			name, after, _ := strings.Cut(rest, ")")
			b.WriteString(strings.Repeat(madePicture(t, name+")"), times))
			rest = after
			continue
		}
		text, err := strconv.Unquote(quoted)
		if err != nil {
			t.Fatalf("%s: %v", quoted, err)
		}
		b.WriteString(strings.Repeat(text, times))
		rest = rest[len(quoted):]
	}
	return b.String()
}

// lay writes the reference of a case into a folder and gives the line changed.
func (c hostileCase) lay(t testing.TB, folder string, files map[string]string) (line int) {
	t.Helper()
	changed := map[string]string{}
	for name, text := range files {
		changed[name] = text
	}
	name := filepath.Join(folder, filepath.FromSlash(c.file))
	switch c.where {
	case "->", "fifo", "folder":
		delete(changed, c.file)
		writeFiles(t, folder, changed)
		if err := os.MkdirAll(filepath.Dir(name), 0o755); err != nil {
			t.Fatal(err)
		}
		makeOdd(t, c.where, name, spelled(t, c.what))
		return 0
	case "*":
		changed[c.file], line = spelled(t, c.what), 1
	case "+":
		line = strings.Count(changed[c.file], "\n") + 1
		changed[c.file] += spelled(t, c.what)
	default:
		changed[c.file], line = set(t, c.file, changed[c.file], c.where, spelled(t, c.what))
	}
	writeFiles(t, folder, changed)
	return line
}

func makeOdd(t testing.TB, how, name, to string) {
	t.Helper()
	var err error
	switch how {
	case "->":
		err = os.Symlink(to, name)
	case "folder":
		err = os.Mkdir(name, 0o755)
	default:
		makePipe(t, name)
	}
	if err != nil {
		t.Fatal(err)
	}
}

func writeFiles(t testing.TB, folder string, files map[string]string) {
	t.Helper()
	for name, text := range files {
		path := filepath.Join(folder, filepath.FromSlash(name))
		err := os.MkdirAll(filepath.Dir(path), 0o755)
		if err == nil {
			err = os.WriteFile(path, []byte(text), 0o644)
		}
		if err != nil {
			t.Fatal(err)
		}
	}
}

// set exchanges the value at a place of a record, and gives the line of it.
func set(t testing.TB, file, source, where, value string) (string, int) {
	t.Helper()
	where, raw := strings.CutSuffix(where, "!")
	text := value
	if !raw {
		text = yamlQuoted(value)
	}
	if file == schema.SettingsFile {
		source = "---\n" + source + "---\n"
	}
	at := located(t, file, source, where)
	line := strings.Count(source[:at.Start], "\n") + 1
	source = source[:at.Start] + text + source[at.End:]
	if file == schema.SettingsFile {
		source = strings.TrimSuffix(strings.TrimPrefix(source, "---\n"), "---\n")
		line--
	}
	return source, line
}

// yamlQuoted writes a text between YAML's double quotes, whose escapes are
// those of JSON. Odd characters stay as they are.
func yamlQuoted(s string) string {
	var b strings.Builder
	b.WriteByte('"')
	for i := 0; i < len(s); i++ {
		switch c := s[i]; c {
		case '"', '\\':
			b.WriteString(`\` + string(c))
		case '\n':
			b.WriteString(`\n`)
		case '\r':
			b.WriteString(`\r`)
		case '\t':
			b.WriteString(`\t`)
		default:
			b.WriteByte(c)
		}
	}
	return b.String() + `"`
}

func located(t testing.TB, file, source, where string) *schema.Located {
	t.Helper()
	top, err := schema.Locate(file, []byte(source))
	if err != nil {
		t.Fatalf("%s: %v", file, err)
	}
	var found *schema.Located
	eachText(top, "", func(way string, l *schema.Located) {
		if way == where {
			found = l
		}
	})
	if found == nil {
		t.Fatalf("%s has nothing at %q", file, where)
	}
	return found
}

// eachText visits every value of a record with the way that leads to it.
func eachText(l *schema.Located, way string, visit func(way string, l *schema.Located)) {
	visit(way, l)
	for i, item := range l.Items {
		eachText(item, fmt.Sprintf("%s[%d]", way, i), visit)
	}
	for _, k := range l.Keys {
		eachText(k.Value, way+"."+k.Name, visit)
	}
}

// TestHostileCorpus reads, checks and publishes every case: each is refused
// with its place and a remedy or published, and what the site shows of it, be
// it refused or not, is harmless. None panics.
func TestHostileCorpus(t *testing.T) {
	cases := hostileCases(t)
	names := map[string]bool{}
	for _, c := range cases {
		if names[c.name] {
			t.Errorf("%s: the name %q stands twice", c.origin, c.name)
		}
		names[c.name] = true
	}
	if len(cases) < 200 {
		t.Errorf("only %d cases", len(cases))
	}
	base, ours := hostileBase(t), ownMarkup(t)
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			folder := filepath.Join(t.TempDir(), "r")
			line := c.lay(t, folder, base)
			study, err := builder.Open(t.Context(), folder)
			if words, shut := strings.CutPrefix(c.want, "shut "); shut || err != nil {
				if !shut || err == nil || !strings.Contains(err.Error(), words) {
					t.Fatalf("%s: wanted %q, got the error %v", c.origin, c.want, err)
				}
				return
			}
			c.judge(t, reportOf(t, study), line)
			c.written(t, harmless(t, study, ours, c.strict()))
		})
	}
}

// written wants all files of what was not refused to be written.
func (c hostileCase) written(t *testing.T, broken []string) {
	t.Helper()
	if strings.HasPrefix(c.want, "refused ") {
		return // and so never published
	}
	for _, b := range broken {
		t.Errorf("%s: cannot be written: %s", c.origin, b)
	}
}

// strict says that the pages are held to more than not to run: a record that
// is refused for its odd characters, or for a misspelt "private", is not
// published, and who renders it all the same shows it as it stands.
func (c hostileCase) strict() bool {
	return !strings.HasPrefix(c.want, "refused odd-characters") && c.name != "private-misspelt"
}

// judge holds the findings against what is wanted.
func (c hostileCase) judge(t *testing.T, report checks.Report, line int) {
	t.Helper()
	tellsAll(t, report)
	check, refused := strings.CutPrefix(c.want, "refused ")
	switch {
	case refused:
		at := fmt.Sprintf("%s:%d", c.file, line)
		if own, place, ok := strings.Cut(check, " "); ok {
			check, at = own, place
			if place == "0" {
				at = c.file + ":0"
			}
		}
		if !slices.ContainsFunc(report.Findings, func(f checks.Finding) bool {
			return f.Check == check && f.Level == checks.Error && fmt.Sprintf("%s:%d", f.Pos.File(), f.Pos.Line()) == at
		}) {
			t.Errorf("%s: not refused by %s at %s, but: %s", c.origin, check, at, told(report))
		}
	case c.want == "harmless":
		if report.Counts.Error > 0 {
			t.Errorf("%s: refused: %s", c.origin, told(report))
		}
	default:
		t.Errorf("%s: %q is nothing to want", c.origin, c.want)
	}
}

// tellsAll wants of every error its file, its line and a remedy in print that
// no terminal takes for a command, and of every check that it came to its end.
func tellsAll(t *testing.T, report checks.Report) {
	t.Helper()
	for _, f := range report.Findings {
		if f.Check == "check-unfinished" {
			t.Errorf("a check did not come to its end: %s", f.Message)
		}
		if f.Level == checks.Error && (f.Pos.File() == "" || f.Help == "" || f.Message == "" || f.Pos.Line() == 0 && !ofWholeFile[f.Check]) {
			t.Errorf("%s at %q says %q, remedy %q", f.Check, f.Pos, f.Message, f.Help)
		}
	}
	var text strings.Builder
	if err := checks.Text(&text, report, nil, checks.TextOptions{}); err != nil {
		t.Error(err)
	}
	for _, odd := range []string{"\x1b", "\x00", "\u202e", "\u2066", "\x07", "\r"} {
		if strings.Contains(text.String(), odd) {
			t.Errorf("the findings hold the character %q", odd)
		}
	}
	if strings.Contains(text.String(), hostileSecret) {
		t.Errorf("the findings hold what is private")
	}
}

// ofWholeFile are checks of files of which no line can be named.
var ofWholeFile = map[string]bool{
	"outside-folder": true, "stray-file": true, "nested-folder": true, "bad-identifier": true, "unreadable": true, "too-large": true,
	"unreadable-picture": true, "located-picture": true, "odd-characters": true,
}

func told(report checks.Report) string {
	var list []string
	for _, f := range report.Findings {
		if f.Level == checks.Error {
			list = append(list, fmt.Sprintf("%s %s %q", f.Pos, f.Check, f.Message))
		}
	}
	if len(list) > 5 {
		list = append(list[:5], fmt.Sprintf("and %d more", len(list)-5))
	}
	return "[" + strings.Join(list, "; ") + "]"
}

func asJSON(data []byte) error {
	var v any
	return json.Unmarshal(data, &v)
}

func reportOf(t testing.TB, s *builder.Study) checks.Report {
	t.Helper()
	report, err := s.Report(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	return report
}
