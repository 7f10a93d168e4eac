package checks

import (
	"bytes"
	"strings"
	"testing"
	"testing/fstest"

	"yearmark/schema"
)

// TestNoFindingShowsWhatIsPrivate puts a fault into and beside what is private,
// in every way that YAML is written and mistyped: no finding shows the secret.
func TestNoFindingShowsWhatIsPrivate(t *testing.T) {
	for _, private := range []string{
		"private: {owner: SECRET, owner: SECRET}", "private: {owner: [SECRET}", "private: SECRET", "privat: {owner: SECRET}",
		"private:\n  owner: SECRET\n  owner: SECRET", "private:\n  owner: {SECRET: 1}", "private:\n- SECRET", "private:\n\towner: SECRET",
		"Private:\n  owner: |\n    SECRET\n\n    SECRET\n  paid: [", "\"private\": {owner: SECRET, paid: &a SECRET}", " private: {owner: SECRET}",
		"private: {SECRET: a, SECRET: b}", "private:\n  SECRET: a\n  SECRET: b", "private: {SECRET: }", "private: {[SECRET]: a}",
	} {
		files := fstest.MapFS{
			"reference.yaml":  {Data: []byte("name: R\nyears: 1930/1985\n")},
			"examples/1.md":   {Data: []byte("---\nrecord: example\n" + private + "\nseen: 19x\n---\n")},
			"makers/maker.md": {Data: []byte("---\nrecord: maker\nname: M\n---\n")},
		}
		ref, problems, err := schema.ReadFS(files, "r")
		if err != nil {
			t.Fatal(err)
		}
		report := whole(t, Input{Ref: ref, Problems: problems, Files: files})
		if report.Counts.Error == 0 {
			t.Errorf("%q: no fault was found, so nothing was shown", private)
		}
		for _, color := range []bool{false, true} {
			var out bytes.Buffer
			if err := Text(&out, report, ref, TextOptions{Color: color, Files: files}); err != nil {
				t.Fatal(err)
			}
			if strings.Contains(out.String(), "SECRET") {
				t.Errorf("%q is shown:\n%s", private, out.String())
			}
		}
	}
}
