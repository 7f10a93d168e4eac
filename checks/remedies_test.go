package checks

import (
	"io/fs"
	"maps"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/google/go-cmp/cmp"

	"yearmark/exchange/editing"
	"yearmark/schema"
	"yearmark/testdata/need"
)

var remedyLine = regexp.MustCompile(`(?m)^remedy (\S+) ("(?:[^"\\]|\\.)*")$`)

// Each file of testdata/remedies is a slip below bad/ and, below good/, the same
// records after somebody did what the remedy says. The remedy must be told, and
// once it is followed nothing may be found.
func TestRemediesWork(t *testing.T) {
	folder := filepath.Join(need.Root(t), "testdata", "remedies")
	list, err := filepath.Glob(filepath.Join(folder, "*.txtar"))
	if err != nil || len(list) < 12 {
		t.Fatalf("%d remedies, %v", len(list), err)
	}
	for _, file := range list {
		t.Run(strings.TrimSuffix(filepath.Base(file), ".txtar"), func(t *testing.T) {
			f := readFixture(t, file)
			comment, _ := archive(t, file)
			wanted := remedyLine.FindAllStringSubmatch(comment, -1)
			if len(wanted)+strings.Count(comment, "\npress ") == 0 {
				t.Fatal("no remedy is wanted")
			}
			report, _ := reportOn(t, without(t, f.bad, comment))
			for _, m := range wanted {
				part := unquoted(t, m[2])
				if !slices.ContainsFunc(report.Findings, func(g Finding) bool { return g.Check == m[1] && strings.Contains(g.Help, part) }) {
					t.Errorf("%s does not say %q", m[1], part)
					for _, g := range report.Findings {
						t.Logf("%s: %s", told(g), g.Help)
					}
				}
			}
			for _, m := range pressed.FindAllStringSubmatch(comment, -1) {
				press(t, report, f, m[1], unquoted(t, m[2]), strings.Trim(m[3], `"`))
			}
			mended, _ := reportOn(t, f.good)
			var left []string
			for _, m := range leftOver.FindAllStringSubmatch(comment, -1) {
				left = append(left, m[1])
			}
			for _, g := range mended.Findings {
				if !slices.Contains(left, g.Check) {
					t.Errorf("the remedy does not end it: %s: %s", told(g), g.Help)
				}
			}
		})
	}
}

var (
	pressed  = regexp.MustCompile(`(?m)^press (\S+) ("(?:[^"\\]|\\.)*")(?: said ("[^"]*"))?$`)
	leftOver = regexp.MustCompile(`(?m)^leaves (\S+)$`)
)

func unquoted(t *testing.T, text string) string {
	t.Helper()
	s, err := strconv.Unquote(text)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// press carries a remedy of a finding out: every file is then, to the byte,
// what it is below good/.
func press(t *testing.T, report Report, f fixture, check, title, said string) {
	t.Helper()
	var titles []string
	for _, g := range report.Findings {
		for _, r := range g.Remedies {
			if titles = append(titles, g.Check+": "+r.Title); g.Check != check || r.Title != title {
				continue
			}
			if d := cmp.Diff(texts(f.good), texts(remedied(t, f.bad, r, said))); d != "" {
				t.Errorf("%s, %q makes something else of the files: %s", check, title, d)
			}
			return
		}
	}
	t.Errorf("%s does not offer %q; offered is %q", check, title, titles)
}

// remedied gives files as they are after a remedy.
func remedied(t *testing.T, files fstest.MapFS, r schema.Remedy, said string) fstest.MapFS {
	t.Helper()
	after := maps.Clone(files)
	changes, err := editing.Mend(r, said, func(file string) ([]byte, error) { return fs.ReadFile(files, file) })
	if err != nil || len(changes) == 0 {
		t.Errorf("%q changes %d files: %v", r.Title, len(changes), err)
	}
	for _, c := range changes {
		if c.After == nil {
			delete(after, c.File)
		} else {
			after[c.File] = &fstest.MapFile{Data: c.After}
		}
	}
	return after
}

// Whatever is offered for any slip of testdata ends the finding that it is
// offered for, and every check that offers anything is pressed in a file of
// testdata/remedies, which holds what else may change.
func TestEveryRemedyEndsItsFinding(t *testing.T) {
	var files []string
	tried, offered := map[string]bool{}, map[string]bool{}
	for _, folder := range []string{"broken", "remedies"} {
		list, err := filepath.Glob(filepath.Join(need.Root(t), "testdata", folder, "*.txtar"))
		if err != nil {
			t.Fatal(err)
		}
		files = append(files, list...)
	}
	for _, file := range files {
		if filepath.Base(file) == "base.txtar" {
			continue
		}
		f := readFixture(t, file)
		comment, _ := archive(t, file)
		for _, m := range pressed.FindAllStringSubmatch(comment, -1) {
			tried[m[1]] = true
		}
		bad := without(t, f.bad, comment)
		report, _ := reportOn(t, bad)
		for _, g := range report.Findings {
			for _, r := range g.Remedies {
				after, _ := reportOn(t, remedied(t, bad, r, "It is so"))
				if like(after, g) >= like(report, g) {
					t.Errorf("%s: %s is not ended by %q", f.name, told(g), r.Title)
				}
				offered[g.Check] = true
			}
		}
	}
	for check := range offered {
		if c, _, _ := Lookup(check); !tried[check] && c.finds == nil { // contradictions of every kind are decided alike
			t.Errorf("%s offers remedies, and no file of testdata/remedies presses one", check)
		}
	}
}

// like counts the findings of a file that say the same as one.
func like(r Report, f Finding) int {
	n := 0
	for _, g := range r.Findings {
		if g.Check == f.Check && g.Message == f.Message && g.Pos.File() == f.Pos.File() {
			n++
		}
	}
	return n
}

func texts(files fstest.MapFS) map[string]string {
	all := map[string]string{}
	for name, f := range files {
		all[name] = string(f.Data)
	}
	return all
}

var gone = regexp.MustCompile(`(?m)^without (\S+)$`)

// without takes away the files that the comment names.
func without(t *testing.T, files fstest.MapFS, comment string) fstest.MapFS {
	t.Helper()
	for _, m := range gone.FindAllStringSubmatch(comment, -1) {
		if files[m[1]] == nil {
			t.Fatalf("%s is not there", m[1])
		}
		delete(files, m[1])
	}
	return files
}
