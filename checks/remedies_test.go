package checks

import (
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
	"testing/fstest"

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
			if len(wanted) == 0 {
				t.Fatal("no remedy is wanted")
			}
			report, _ := reportOn(t, without(t, f.bad, comment))
			for _, m := range wanted {
				part, _ := strconv.Unquote(m[2])
				if !slices.ContainsFunc(report.Findings, func(g Finding) bool { return g.Check == m[1] && strings.Contains(g.Help, part) }) {
					t.Errorf("%s does not say %q", m[1], part)
					for _, g := range report.Findings {
						t.Logf("%s: %s", told(g), g.Help)
					}
				}
			}
			mended, _ := reportOn(t, f.good)
			for _, g := range mended.Findings {
				t.Errorf("the remedy does not end it: %s: %s", told(g), g.Help)
			}
		})
	}
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
