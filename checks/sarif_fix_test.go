package checks

import (
	"bytes"
	"encoding/json"
	"io/fs"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/owenrumney/go-sarif/v3/pkg/report/v210/sarif"
	"github.com/santhosh-tekuri/jsonschema/v6"

	"yearmark/exchange/editing"
	"yearmark/schema"
	"yearmark/testdata/need"
)

// menderOf carries remedies out on the files of a folder.
func menderOf(files fs.FS) Mender {
	return func(r schema.Remedy) ([]schema.Mended, error) {
		return editing.Mend(r, "", func(file string) ([]byte, error) { return fs.ReadFile(files, file) })
	}
}

// replaced does to a text what a replacement says, read as the standard has it
// (SARIF 2.1.0, 3.30 and 3.57): lines end with a line feed, columns count code
// points from 1, and what stands at the end column stays.
func replaced(t *testing.T, text string, r *sarif.Replacement) string {
	t.Helper()
	offset := func(line, column int) int {
		at := 0
		for range line - 1 {
			n := strings.IndexByte(text[at:], '\n')
			if n < 0 {
				t.Fatalf("there is no line %d", line)
			}
			at += n + 1
		}
		for i := range text[at:] {
			if column--; column == 0 {
				return at + i
			}
		}
		return len(text)
	}
	now := ""
	if r.InsertedContent != nil {
		now = *r.InsertedContent.Text
	}
	region := r.DeletedRegion
	return text[:offset(*region.StartLine, *region.StartColumn)] + now + text[offset(*region.EndLine, *region.EndColumn):]
}

// TestSARIFFixesMend writes every remedy that is pressed in testdata/remedies as
// SARIF, reads it back, does what its fixes say, and holds the files against what
// the remedy itself makes of them, to the byte. It is valid by the published schema.
func TestSARIFFixesMend(t *testing.T) {
	list, err := filepath.Glob(filepath.Join(need.Root(t), "testdata", "remedies", "*.txtar"))
	if err != nil || len(list) == 0 {
		t.Fatal(err)
	}
	published := publishedSARIFSchema(t)
	fixes, asking := 0, 0
	for _, name := range list {
		f := readFixture(t, name)
		report, _ := reportOn(t, f.bad)
		mend := menderOf(f.bad)
		text := written(t, func(b *bytes.Buffer) error { return SARIF(b, report, mend) })
		if doc, err := jsonschema.UnmarshalJSON(strings.NewReader(text)); err != nil || published.Validate(doc) != nil {
			t.Errorf("%s: %v %v", filepath.Base(name), err, published.Validate(doc))
		}
		var log sarif.Report
		if err := json.Unmarshal([]byte(text), &log); err != nil {
			t.Fatal(err)
		}
		for i, result := range log.Runs[0].Results {
			mechanical := slices.DeleteFunc(slices.Clone(report.Findings[i].Remedies), func(r schema.Remedy) bool {
				return r.Asks != "" || slices.ContainsFunc(r.Edits, func(e schema.Edit) bool { return e.To != "" })
			})
			if len(result.Fixes) != len(mechanical) {
				t.Errorf("%s, %s: %d fixes for %d remedies", filepath.Base(name), *result.RuleID, len(result.Fixes), len(mechanical))
				continue
			}
			asking += len(report.Findings[i].Remedies) - len(mechanical)
			for k, fix := range result.Fixes {
				fixes++
				want, err := mend(mechanical[k])
				if err != nil || len(want) != len(fix.ArtifactChanges) || *fix.Description.Text != mechanical[k].Title {
					t.Errorf("%s: %v, %d files, %q", filepath.Base(name), err, len(fix.ArtifactChanges), *fix.Description.Text)
					continue
				}
				for n, change := range fix.ArtifactChanges {
					if got := replaced(t, string(want[n].Before), change.Replacements[0]); *change.ArtifactLocation.URI != want[n].File || got != string(want[n].After) {
						t.Errorf("%s: the fix makes of %s\n%s", filepath.Base(name), want[n].File, got)
					}
				}
			}
		}
	}
	if fixes < 20 || asking == 0 {
		t.Errorf("%d fixes, %d remedies that are none", fixes, asking)
	}
}

// TestSARIFReplacesWhole holds changes that end beside a letter of several bytes
// or within a line end.
func TestSARIFReplacesWhole(t *testing.T) {
	for _, c := range [][2]string{
		{"a: é\n", "a: è\n"}, {"a: •\r\nb: 1\r\n", "a: •\r\n"}, {"a\r\nb\r\n", "a\nb\n"}, {"a\nb\n", "a\r\nb\r\n"}, {"", "a"}, {"a", ""}, {"aa", "aaa"}, {"“x”\n", "“x” “y”\n"},
	} {
		change := sarifChange(schema.Mended{File: "f.md", Before: []byte(c[0]), After: []byte(c[1])})
		if got := replaced(t, c[0], change.Replacements[0]); got != c[1] {
			t.Errorf("%q becomes %q, want %q", c[0], got, c[1])
		}
	}
}
