package desk

import (
	"bytes"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"yearmark/schema"
	"yearmark/testdata/need"
)

// recordFile is one record of the demonstration.
type recordFile struct {
	name   string
	source []byte
	of     schema.Field
}

func demonstration(t *testing.T) []recordFile {
	t.Helper()
	var all []recordFile
	for _, kind := range schema.Kinds {
		names, err := filepath.Glob(filepath.Join(need.Root(t), "content", kind.Folder(), "*.md"))
		if err != nil || len(names) == 0 {
			t.Fatalf("no records of kind %s: %v", kind, err)
		}
		for _, name := range names {
			source, err := os.ReadFile(name)
			if err != nil {
				t.Fatal(err)
			}
			all = append(all, recordFile{kind.Folder() + "/" + filepath.Base(name), source, schema.Describe(kind)})
		}
	}
	return all
}

// TestAFormSentBackUnchangedChangesNothing goes through every form of the demonstration.
func TestAFormSentBackUnchangedChangesNothing(t *testing.T) {
	for _, f := range demonstration(t) {
		for _, source := range [][]byte{f.source, bytes.ReplaceAll(f.source, []byte("\n"), []byte("\r\n"))} {
			v, err := fileValues(f.name, source, f.of)
			if err != nil {
				t.Errorf("%s: %v", f.name, err)
				continue
			}
			after, err := applied(f.name, source, f.of, v)
			if err != nil || !bytes.Equal(after, source) {
				t.Errorf("%s changes: %v", f.name, err)
			}
		}
	}
}

// TestAnEditTouchesItsValueOnly draws a thousand changes of one value each: the
// file then says what was asked, every line but those of the value and its
// neighbours in the list stays, and setting it back gives the file's own bytes
// or at least the same values.
func TestAnEditTouchesItsValueOnly(t *testing.T) {
	all := demonstration(t)
	rapid.Check(t, func(r *rapid.T) {
		f := rapid.SampledFrom(all).Draw(r, "file")
		was, err := fileValues(f.name, f.source, f.of)
		if err != nil {
			r.Fatal(err)
		}
		paths := slices.DeleteFunc(slices.Sorted(maps.Keys(was)), func(p string) bool { return p == bodyPath || was[p] == "" || typeAt(&f.of, p) == schema.FieldOther })
		path := rapid.SampledFrom(paths).Draw(r, "path")
		now := maps.Clone(was)
		switch typeAt(&f.of, path) {
		case schema.FieldNumber, schema.FieldWhole:
			now[path] = "7"
		case schema.FieldFlag:
			now[path] = map[string]string{"true": "false", "false": "true"}[was[path]]
		default:
			now[path] = rapid.SampledFrom([]string{"plain", "with: a colon", `a "quote"`, "it's # no remark", "ünïcode, and a comma", "1965/1967", "[x", "{y", "- z", "two\nlines"}).Draw(r, "text")
		}
		after, err := applied(f.name, f.source, f.of, now)
		if err != nil {
			r.Fatalf("%s at %s: %v", f.name, path, err)
		}
		got, err := fileValues(f.name, after, f.of)
		if err != nil || !maps.Equal(got, now) {
			r.Fatalf("%s at %s says %q, want %q (%v)", f.name, path, got[path], now[path], err)
		}
		if gone := changedLines(f.source, after); gone > 1 && !strings.Contains(was[path], "\n") && !folded(f.source) {
			r.Fatalf("%s at %s: %d lines changed", f.name, path, gone)
		}
		back, err := applied(f.name, after, f.of, was)
		if err != nil || changedLines(f.source, back) > 1 {
			r.Fatalf("%s at %s: set back, %d lines differ (%v)", f.name, path, changedLines(f.source, back), err)
		}
	})
}

// typeAt is the type of the field at a path.
func typeAt(of *schema.Field, path string) schema.FieldType {
	for step := range strings.SplitSeq(path, "/") {
		if _, err := strconv.Atoi(step); err != nil {
			of = of.Field(step)
		}
	}
	return of.Type
}

// changedLines counts the lines of one file that another does not have.
func changedLines(a, b []byte) int {
	have := map[string]int{}
	for line := range bytes.Lines(b) {
		have[string(line)]++
	}
	gone := 0
	for line := range bytes.Lines(a) {
		if have[string(line)]--; have[string(line)] < 0 {
			gone++
		}
	}
	return gone
}

// folded says that a value of the file is written over several lines.
func folded(source []byte) bool {
	return bytes.Contains(source, []byte(": >")) || bytes.Contains(source, []byte(": |"))
}

// The remedies of the checks are told in the words of the forms.
func TestKeysAreNamedAsTheFormsDo(t *testing.T) {
	for sentence, want := range map[string]string{
		"Add cites: with a source and the place in it.":                    "Add “Who says so” with a source and the place in it.",
		"Take out only: true, or mend the other claim.":                    "Take out “In no other year” true, or mend the other claim.",
		"Write {year: 1965, cites: [\"…\"]}, or give the claim its cites.": "Write {year: 1965, cites: [\"…\"]}, or give the claim its cites.",
		"Write a time as in 12:34, or https://example.org.":                "Write a time as in 12:34, or https://example.org.",
	} {
		if got := inForms(sentence); got != want {
			t.Errorf("%q becomes %q, want %q", sentence, got, want)
		}
	}
}
