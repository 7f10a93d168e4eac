package rename

import (
	"bytes"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"yearmark/exchange/journal"
	"yearmark/schema"
	"yearmark/testdata/need"
)

// state reads the demonstration with changes laid over it.
func state(t *testing.T, changes ...journal.Change) (*schema.Reference, schema.Problems) {
	t.Helper()
	folder := schema.Files(filepath.Join(need.Root(t), "content"))
	ref, problems, err := schema.ReadFS(journal.Over(folder, changes), "content")
	if err != nil {
		t.Fatal(err)
	}
	return ref, problems
}

var formerLine = regexp.MustCompile(`(?m)^formerly:.*\n`)

// Every record of the demonstration takes another name and gets its own back:
// in between nothing misses it and no record names the old one; afterwards
// every byte is as it was, but for the names remembered.
func TestThereAndBack(t *testing.T) {
	ref, before := state(t)
	if len(before) > 0 {
		t.Fatalf("the demonstration has problems: %v", before)
	}
	mentions := 0
	for _, r := range ref.Records() {
		head := r.Header()
		if len(head.ID)%5 != 0 { // a fifth of them is enough
			continue
		}
		away, err := Prepare(ref, head.Kind, head.ID, "renamed-0")
		if err != nil {
			t.Fatalf("%s: %v", head.File, err)
		}
		mentions += len(away) - 2
		now, problems := state(t, away...)
		if len(problems) > 0 {
			t.Fatalf("%s renamed: %v", head.File, problems)
		}
		back, err := Prepare(now, head.Kind, "renamed-0", head.ID)
		if err != nil {
			t.Fatalf("%s: %v", head.File, err)
		}
		if len(back) != len(away) {
			t.Errorf("%s: %d files change on the way there, %d on the way back", head.File, len(away), len(back))
		}
		for _, c := range back {
			if c.After == nil {
				continue
			}
			was, _ := sourceOf(ref, c.File)
			if got := formerLine.ReplaceAll(c.After, nil); !bytes.Equal(got, was) {
				t.Errorf("%s, there and back, changes %s", head.File, c.File)
			}
		}
	}
	if mentions < 100 {
		t.Errorf("only %d records name others: this proves little", mentions)
	}
}

func sourceOf(ref *schema.Reference, file string) ([]byte, bool) {
	for _, r := range ref.Records() {
		if r.Header().File == file {
			return r.Header().Source, true
		}
	}
	return nil, false
}

// What is private keeps the old name, and so do remarks; a name is never found
// within a longer one.
func TestOnlyWhatNamesIt(t *testing.T) {
	source := "---\nrecord: example\nmodel: plover # plover, surely\nname: plover\ndocumented: {span: 1965, cites: [\"example-1, label\", \"example-12\", 'example-1']}\nprivate: {owner: plover, note: \"[x](model:plover)\"}\n---\n\n[a](model:plover), [b](claim:plover/made), [c](model:plover-two) and plover, <model:plover>.\n\n[d]: model:plover\n"
	model, err := newTask(schema.KindModel, "plover", "dunlin").mended("examples/2.md", []byte(source))
	if err != nil {
		t.Fatal(err)
	}
	want := strings.NewReplacer("model: plover #", "model: dunlin #", "[a](model:plover)", "[a](model:dunlin)", "claim:plover/", "claim:dunlin/", "<model:plover>", "<model:dunlin>", "[d]: model:plover", "[d]: model:dunlin").Replace(source)
	if string(model) != want {
		t.Errorf("got\n%s\nwant\n%s", model, want)
	}
	example, err := newTask(schema.KindExample, "1", "0001").mended("examples/2.md", []byte(source))
	if err != nil {
		t.Fatal(err)
	}
	if want := strings.NewReplacer("example-1,", "example-0001,", "'example-1'", "'example-0001'").Replace(source); string(example) != want {
		t.Errorf("got\n%s\nwant\n%s", example, want)
	}
}

func TestRefusals(t *testing.T) {
	ref, _ := state(t)
	for _, c := range []struct{ old, new, says string }{
		{"plover", "dunlin", "there is a model \"dunlin\" already"},
		{"nobody", "somebody", "there is no model \"nobody\""},
		{"plover", "../plover", "small letters"},
		{"plover", "Golden Plover", "small letters"},
		{"plover", "con", "reserved"},
	} {
		if _, err := Prepare(ref, schema.KindModel, c.old, c.new); err == nil || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%s to %s: %v, want %q", c.old, c.new, err, c.says)
		}
	}
}
