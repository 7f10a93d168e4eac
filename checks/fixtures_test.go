package checks

import (
	"encoding/base64"
	"fmt"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
	"testing/fstest"

	"yearmark/chronology"
	"yearmark/schema"
	"yearmark/testdata/need"
)

// A fixture is testdata/broken/CHECK.txtar: a reference that is wrong below
// bad/ and its silent twin below good/, both on top of base.txtar. What is to
// be found stands on the offending line, as `# want CHECK "part of message"`
// in YAML and `<!-- want CHECK "part" -->` in prose and drawings; for other
// files in the comment at the top, as `want FILE:LINE CHECK "part"`.
//
// A file name that ends in .base64 holds bytes; `grow FILE SIZE` in the
// comment at the top pads a file.
type fixture struct {
	name      string
	bad, good fstest.MapFS
	wants     []want
}

type want struct {
	file  string
	line  int
	check string
	part  string
}

func (w want) String() string { return fmt.Sprintf("%s:%d %s %q", w.file, w.line, w.check, w.part) }

// unfixtured are checks that no folder of records can bring about, with the
// test that does.
var unfixtured = map[string]string{"check-unfinished": "TestOneCheckCannotStopTheOthers"}

func brokenFolder(t testing.TB) string { return filepath.Join(need.Root(t), "testdata", "broken") }

// archive reads the parts of a text file divided by lines "-- name --".
func archive(t testing.TB, file string) (comment string, files map[string]string) {
	t.Helper()
	data, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	files = map[string]string{}
	name := ""
	for line := range strings.SplitAfterSeq(string(data), "\n") {
		if title, ok := strings.CutPrefix(strings.TrimSpace(line), "-- "); ok && strings.HasSuffix(title, " --") {
			name = strings.TrimSuffix(title, " --")
			files[name] = ""
			continue
		}
		if name == "" {
			comment += line
			continue
		}
		files[name] += line
	}
	return comment, files
}

func base(t testing.TB) fstest.MapFS {
	t.Helper()
	_, files := archive(t, filepath.Join(brokenFolder(t), "base.txtar"))
	return toFS(t, files)
}

func toFS(t testing.TB, files map[string]string) fstest.MapFS {
	t.Helper()
	out := fstest.MapFS{}
	for name, data := range files {
		bytes := []byte(data)
		if plain, ok := strings.CutSuffix(name, ".base64"); ok {
			decoded, err := base64.StdEncoding.DecodeString(strings.Join(strings.Fields(data), ""))
			if err != nil {
				t.Fatalf("%s: %v", name, err)
			}
			name, bytes = plain, decoded
		}
		out[name] = &fstest.MapFile{Data: bytes}
	}
	return out
}

func readFixture(t testing.TB, file string) fixture {
	t.Helper()
	comment, files := archive(t, file)
	f := fixture{name: strings.TrimSuffix(filepath.Base(file), ".txtar"), bad: base(t), good: base(t)}
	parts := map[string]map[string]string{"bad": {}, "good": {}}
	for name, data := range files {
		side, rest, _ := strings.Cut(name, "/")
		if parts[side] == nil || rest == "" {
			t.Fatalf("%s: %q lies neither in bad/ nor in good/", f.name, name)
		}
		parts[side][rest] = data
	}
	maps.Copy(f.bad, toFS(t, parts["bad"]))
	maps.Copy(f.good, toFS(t, parts["good"]))
	f.wants = wanted(parts["bad"])
	f.directives(t, comment)
	return f
}

var (
	wantMark  = regexp.MustCompile(`(?:#|<!--) want (.*)`)
	wantPair  = regexp.MustCompile(`([a-z0-9-]+) ("(?:[^"\\]|\\.)*")`)
	wantPlace = regexp.MustCompile(`(?m)^want (\S+):(\d+) (.*)$`)
	grow      = regexp.MustCompile(`(?m)^grow (\S+) (\d+)$`)
)

func wanted(files map[string]string) []want {
	var list []want
	for name, data := range files {
		for i, line := range strings.Split(data, "\n") {
			if m := wantMark.FindStringSubmatch(line); m != nil {
				list = append(list, wantsOn(name, i+1, m[1])...)
			}
		}
	}
	return list
}

func wantsOn(file string, line int, text string) []want {
	var list []want
	for _, m := range wantPair.FindAllStringSubmatch(text, -1) {
		part, _ := strconv.Unquote(m[2])
		list = append(list, want{file, line, m[1], part})
	}
	return list
}

func (f *fixture) directives(t testing.TB, comment string) {
	for _, m := range wantPlace.FindAllStringSubmatch(comment, -1) {
		line, _ := strconv.Atoi(m[2])
		f.wants = append(f.wants, wantsOn(m[1], line, m[3])...)
	}
	for _, m := range grow.FindAllStringSubmatch(comment, -1) {
		size, _ := strconv.Atoi(m[2])
		side, name, _ := strings.Cut(m[1], "/")
		files := f.bad
		if side == "good" {
			files = f.good
		}
		if files[name] == nil {
			t.Fatalf("%s: there is no %s to grow", f.name, m[1])
		}
		files[name].Data = append(files[name].Data, []byte(strings.Repeat("x ", size/2))...)
	}
}

func fixtures(t testing.TB) []fixture {
	t.Helper()
	files, err := filepath.Glob(filepath.Join(brokenFolder(t), "*.txtar"))
	if err != nil || len(files) == 0 {
		t.Fatal("there are no fixtures", err)
	}
	var list []fixture
	for _, file := range files {
		if filepath.Base(file) != "base.txtar" {
			list = append(list, readFixture(t, file))
		}
	}
	return list
}

// reportOn reads and checks a reference held in memory.
func reportOn(t testing.TB, files fs.FS) (Report, *schema.Reference) {
	t.Helper()
	ref, problems, err := schema.ReadFS(files, "fixture")
	if err != nil {
		t.Fatal(err)
	}
	timeline := chronology.Build(ref)
	return whole(t, Input{Ref: ref, Problems: problems, Timeline: timeline, Dater: plainDater{ref, timeline}, Files: files}), ref
}

func TestFixtures(t *testing.T) {
	for _, f := range fixtures(t) {
		t.Run(f.name, func(t *testing.T) {
			report, _ := reportOn(t, f.bad)
			compare(t, report.Findings, f.wants)
			twin, _ := reportOn(t, f.good)
			for _, got := range twin.Findings {
				t.Errorf("the twin is not silent: %s", told(got))
			}
			if !slices.ContainsFunc(report.Findings, func(got Finding) bool { return got.Check == f.name }) {
				t.Errorf("the check %s found nothing", f.name)
			}
		})
	}
}

func told(f Finding) string { return fmt.Sprintf("%s %s %q", f.Pos, f.Check, f.Message) }

// compare holds what was found against what was wanted; surplus and missing
// findings both fail.
func compare(t *testing.T, got []Finding, wants []want) {
	t.Helper()
	left := slices.Clone(wants)
	for _, f := range got {
		i := slices.IndexFunc(left, func(w want) bool {
			return w.file == f.Pos.File() && w.line == f.Pos.Line() && w.check == f.Check && strings.Contains(f.Message, w.part)
		})
		if i < 0 {
			t.Errorf("not wanted: %s", told(f))
			continue
		}
		left = slices.Delete(left, i, i+1)
	}
	for _, w := range left {
		t.Errorf("not found: %s", w)
	}
}

func TestTheBaseIsSilent(t *testing.T) {
	report, _ := reportOn(t, base(t))
	for _, f := range report.Findings {
		t.Errorf("%s", told(f))
	}
	if len(report.LeftOut) > 0 {
		t.Errorf("left out: %v", report.LeftOut)
	}
}

func TestEveryCheckHasAFixture(t *testing.T) {
	have := map[string]bool{}
	for _, f := range fixtures(t) {
		have[f.name] = true
		if _, _, known := Lookup(f.name); !known {
			t.Errorf("the fixture %s is of no check", f.name)
		}
	}
	for _, c := range registry {
		if !have[c.Name] && unfixtured[c.Name] == "" {
			t.Errorf("the check %s has no fixture", c.Name)
		}
	}
}

// plainDater takes every claim at its word: a year is possible if some claim
// of each value observed is or nobody speaks for the feature, and likely if
// some claim of each is certain.
type plainDater struct {
	ref      *schema.Reference
	timeline *chronology.Timeline
}

// Temper is what the fixture of other-temper wants.
func (j plainDater) Temper() float64 {
	if j.ref.Settings.Judgement.Temper.Value == .95 {
		return .4
	}
	return 0
}

func (j plainDater) Date(e *schema.Example) ExampleVerdict {
	m, ok := j.ref.Models.Get(e.Model.Value)
	if !ok || len(e.Observed) == 0 {
		return ExampleVerdict{}
	}
	v := ExampleVerdict{Dated: true, Years: j.years(m, e.Observed, 0), Likely: j.years(m, e.Observed, 0.999)}
	for i, a := range e.Observed {
		for _, b := range e.Observed[:i] {
			if len(j.years(m, []*schema.Observed{a, b}, 0)) == 0 {
				v.Conflicts = append(v.Conflicts, []string{b.Feature.Value, a.Feature.Value})
			}
		}
	}
	return v
}

func (j plainDater) years(m *schema.Model, observed []*schema.Observed, above float64) []int {
	var list []int
	made := j.timeline.Made(m)
	for year := made.A; year <= made.D; year++ {
		fits := true
		for _, o := range observed {
			speaks := func(c *schema.Claim) bool {
				return c.Feature.Value == o.Feature.Value && j.timeline.Years(c).Membership(year) > 0
			}
			says := func(c *schema.Claim) bool {
				return speaks(c) && c.Value.Value == o.Value[0].Value && j.timeline.Years(c).Membership(year) > above
			}
			fits = fits && (slices.ContainsFunc(m.Features, says) || !slices.ContainsFunc(m.Features, speaks))
		}
		if fits {
			list = append(list, year)
		}
	}
	return list
}
