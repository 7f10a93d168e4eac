package builder_test

import (
	"fmt"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"testing/fstest"

	"yearmark/builder"
	"yearmark/checks"
	"yearmark/schema"
)

// payloads are the texts of payloads.txt.
func payloads(t testing.TB) []string {
	t.Helper()
	data, err := os.ReadFile(filepath.Join(hostileFolder(t), "payloads.txt"))
	if err != nil {
		t.Fatal(err)
	}
	var all []string
	for line := range strings.Lines(string(data)) {
		if line = strings.TrimSpace(line); line == "" || line[0] == '#' {
			continue
		}
		text, err := strconv.Unquote(line)
		if err != nil {
			t.Fatalf("%s: %v", line, err)
		}
		all = append(all, text)
	}
	return all
}

// field is one text of one record of the base.
type field struct{ file, way string }

// fieldsOf lists every text of every record of the base, what is private aside.
func fieldsOf(t testing.TB, base map[string]string) []field {
	t.Helper()
	var all []field
	for file, source := range base {
		if !strings.HasSuffix(file, ".md") && file != schema.SettingsFile {
			continue
		}
		if file == schema.SettingsFile {
			source = "---\n" + source + "---\n"
		}
		top, err := schema.Locate(file, []byte(source))
		if err != nil {
			t.Fatal(err)
		}
		eachText(top, "", func(way string, l *schema.Located) {
			if l.Kind == schema.LocatedText && way != ".record" && !strings.HasPrefix(way, ".private") {
				all = append(all, field{file, way})
			}
		})
	}
	return all
}

func opened(t testing.TB, files map[string]string) *builder.Study {
	t.Helper()
	folder := fstest.MapFS{}
	for name, text := range files {
		folder[name] = &fstest.MapFile{Data: []byte(text)}
	}
	study, err := builder.OpenFS(t.Context(), folder, "hostile")
	if err != nil {
		t.Fatal(err)
	}
	return study
}

func with(base map[string]string, file, text string) map[string]string {
	all := map[string]string{}
	for name, old := range base {
		all[name] = old
	}
	all[file] = text
	return all
}

// TestHostileFields puts every payload into every other text of every record,
// one at a time, so that each text meets half of them. Either nothing is wrong with it, or an error stands on its line or
// where its name is used, with the remedy. Then, for each payload, all texts
// that take it hold it at once, and after that all texts there are: the sites
// of both are harmless.
func TestHostileFields(t *testing.T) {
	base, ours := hostileBase(t), ownMarkup(t)
	fields := fieldsOf(t, base)
	if len(fields) < 180 {
		t.Errorf("only %d fields", len(fields))
	}
	for i, payload := range payloads(t) {
		t.Run(fmt.Sprint(i), func(t *testing.T) {
			t.Parallel()
			taking, all := with(base, "", ""), with(base, "", "")
			delete(taking, "")
			delete(all, "")
			taken, odd := 0, strings.Contains(payload, "\u202e")
			for j, f := range fields {
				if !odd {
					all[f.file], _ = set(t, f.file, all[f.file], f.way, payload)
				}
				if (i+j)%2 == 0 {
					continue // the other half meets the next payload
				}
				text, line := set(t, f.file, base[f.file], f.way, payload)
				report := reportOf(t, opened(t, with(base, f.file, text)))
				tellsAll(t, report)
				if report.Counts.Error == 0 {
					taking[f.file], _ = set(t, f.file, taking[f.file], f.way, payload)
					taken++
				} else if !toldOf(report, f.file, line) {
					t.Errorf("%s%s: no error on line %d: %s", f.file, f.way, line, told(report))
				}
			}
			if taken < 20 && !odd {
				t.Errorf("only %d fields take %q", taken, payload)
			}
			for _, files := range []map[string]string{taking, all} {
				for _, b := range harmless(t, opened(t, files), ours, !odd) {
					t.Errorf("cannot be written: %s", b)
				}
			}
		})
	}
}

// toldOf says whether an error stands on a line, or says that a place on it is
// why: who takes a name away is told where the name is used.
func toldOf(report checks.Report, file string, line int) bool {
	for _, f := range report.Findings {
		if f.Level != checks.Error {
			continue
		}
		if f.Pos.File() == file && f.Pos.Line() == line || f.Check == "dangling" || f.Check == "unknown-value" || f.Check == "dead-link" {
			return true
		}
		for _, why := range f.Why {
			if why.Pos.File() == file && why.Pos.Line() == line {
				return true
			}
		}
	}
	return false
}
