package chronology

import (
	"bufio"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/google/go-cmp/cmp"

	"yearmark/schema"
	"yearmark/schema/edtf"
)

// file is one file of a fixture.
type file struct{ name, data string }

// archive reads a fixture: a comment, then files, each headed "-- name --".
func archive(t testing.TB, path string) (comment string, files []file) {
	t.Helper()
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	for line := range strings.Lines(string(data)) {
		name, headed := strings.CutPrefix(strings.TrimSpace(line), "-- ")
		if name, ok := strings.CutSuffix(name, " --"); ok && headed {
			files = append(files, file{name: name})
		} else if n := len(files); n > 0 {
			files[n-1].data += line
		} else {
			comment += line
		}
	}
	return comment, files
}

// records reads the reference that the files make with those of testdata/base.txtar.
func records(t testing.TB, files ...file) *schema.Reference {
	t.Helper()
	_, base := archive(t, "testdata/base.txtar")
	tree := fstest.MapFS{}
	for _, f := range slices.Concat(base, files) {
		tree[f.name] = &fstest.MapFile{Data: []byte(f.data)}
	}
	ref, problems, err := schema.ReadFS(tree, "test")
	if err != nil {
		t.Fatal(err)
	}
	if len(problems) > 0 {
		t.Fatalf("the fixture is not well made: %v", problems)
	}
	return ref
}

// model gives the one model of a fixture written inline.
func model(id, front string) file {
	return file{"models/" + id + ".md", "---\nrecord: model\nname: " + strings.ToUpper(id[:1]) + id[1:] + "\nmaker: halvane\n" + front + "---\n"}
}

// claims lists every claim of the reference, makers' first.
func claims(ref *schema.Reference) []*schema.Claim {
	var all []*schema.Claim
	for _, m := range ref.Makers.All() {
		all = append(all, m.Claims()...)
	}
	for _, m := range ref.Models.All() {
		all = append(all, m.Claims()...)
	}
	return all
}

func four(y edtf.Years) string {
	if y.Empty() {
		return "none"
	}
	s := fmt.Sprint(y.A, y.B, y.C, y.D)
	if y.Members != nil && y.Choice == edtf.OneOf {
		s += " of " + strings.Trim(fmt.Sprint(y.Members), "[]")
	}
	return s
}

// report tells a timeline as the want files do: every contradiction, every
// derived year with its reasons, and the years of the claims asked for.
func report(ref *schema.Reference, t *Timeline, asked []string) []string {
	var lines []string
	for _, c := range claims(ref) {
		for _, about := range [...]struct {
			word  string
			years edtf.Years
		}{{"stated", t.Stated(c)}, {"years", t.Years(c)}} {
			if slices.Contains(asked, about.word+" "+c.Key()) {
				lines = append(lines, fmt.Sprintf("%s %s %s", about.word, c.Key(), four(about.years)))
			}
		}
		for _, b := range t.Why(c) {
			var steps []string
			for _, s := range b.Steps {
				steps = append(steps, s.Sentence)
			}
			lines = append(lines, fmt.Sprintf("why %s %s: %s", c.Key(), b, strings.Join(steps, "; ")))
		}
	}
	for _, c := range t.Conflicts() {
		open := ""
		if c.Decided() {
			open = " decided"
		}
		lines = append(lines, fmt.Sprintf("conflict %s:%d by %d%s: %s", c.Primary.File(), c.Primary.Line(), c.Years, open, c))
	}
	return lines
}

// TestFixtures compares each file of testdata with what it wants. Every
// expectation there was worked out by hand; the reasons stand in its comment.
func TestFixtures(t *testing.T) {
	paths, err := filepath.Glob("testdata/*.txtar")
	if err != nil || len(paths) < 10 {
		t.Fatalf("%d fixtures, %v", len(paths), err)
	}
	for _, path := range paths {
		name := strings.TrimSuffix(filepath.Base(path), ".txtar")
		if name == "base" {
			continue
		}
		t.Run(name, func(t *testing.T) {
			comment, files := archive(t, path)
			last := len(files) - 1
			if comment == "" || last < 1 || files[last].name != "want" {
				t.Fatal("a fixture has a comment, records and, last, a file want")
			}
			want, asked := expectations(files[last].data)
			ref := records(t, files[:last]...)
			got := report(ref, Build(ref), asked)
			slices.Sort(want)
			slices.Sort(got)
			if diff := cmp.Diff(want, got); diff != "" {
				t.Errorf("(-want +got):\n%s", diff)
			}
		})
	}
}

// expectations gives the lines of a want file, and the claims it asks about.
func expectations(data string) (want, asked []string) {
	for lines := bufio.NewScanner(strings.NewReader(data)); lines.Scan(); {
		want = append(want, lines.Text())
		if words := strings.Fields(lines.Text()); words[0] == "years" || words[0] == "stated" {
			asked = append(asked, words[0]+" "+words[1])
		}
	}
	return want, asked
}
