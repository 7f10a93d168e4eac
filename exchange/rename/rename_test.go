package rename

import (
	"bytes"
	"io/fs"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"yearmark/exchange/journal"
	"yearmark/schema"
	"yearmark/testdata/need"
)

// state reads the demonstration with changes laid over it.
func state(t *testing.T, changes ...journal.Change) (*schema.Reference, schema.Problems) {
	t.Helper()
	ref, problems, err := schema.ReadFS(journal.Over(folder(t), changes), "content")
	if err != nil {
		t.Fatal(err)
	}
	return ref, problems
}

func folder(t *testing.T) fs.FS {
	t.Helper()
	return schema.Files(filepath.Join(need.Root(t), "content"))
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
		away, err := Prepare(ref, folder(t), head.Kind, head.ID, "renamed-0")
		if err != nil {
			t.Fatalf("%s: %v", head.File, err)
		}
		mentions += len(away) - 2
		now, problems := state(t, away...)
		if len(problems) > 0 {
			t.Fatalf("%s renamed: %v", head.File, problems)
		}
		back, err := Prepare(now, journal.Over(folder(t), away), head.Kind, "renamed-0", head.ID)
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
			was, _ := fs.ReadFile(folder(t), c.File)
			if got := formerLine.ReplaceAll(c.After, nil); !bytes.Equal(got, was) {
				t.Errorf("%s, there and back, changes %s", head.File, c.File)
			}
		}
	}
	if mentions < 100 {
		t.Errorf("only %d records name others: this proves little", mentions)
	}
}

// A record's own files take its name: those that it names and that are called as
// it is, and what lies in a folder of its name; no other's, and none over another.
func TestItsOwnFiles(t *testing.T) {
	model := "---\nrecord: model\nname: Wren\nmaker: orrest\npicture: bows/wren.svg\nmade: 1960\n---\n"
	example := "---\nrecord: example\nmodel: wren\npictures: [{file: wren/side.jpg}, {file: 'bows/wren.svg'}, {file: bows/wren-two.svg}]\n---\n"
	files := fstest.MapFS{
		"reference.yaml": {Data: []byte("name: R\nyears: 1930/1985\n")}, "makers/orrest.md": {Data: []byte("---\nrecord: maker\nname: Orrest\n---\n")},
		"models/wren.md": {Data: []byte(model)}, "models/wren-two.md": {Data: []byte(strings.Replace(model, "wren.svg", "wren-two.svg", 1))},
		"examples/wren.md": {Data: []byte(example)}, "pictures/bows/wren.svg": {Data: []byte("a")}, "pictures/bows/wren-two.svg": {Data: []byte("b")},
		"pictures/wren/side.jpg": {Data: []byte("c")}, "pictures/wren/unnamed.jpg": {Data: []byte("d")}, "pictures/wren.jpg": {Data: []byte("e")},
	}
	ref, _, err := schema.ReadFS(files, "r")
	if err != nil {
		t.Fatal(err)
	}
	for kind, want := range map[schema.Kind][]string{
		schema.KindModel: {"pictures/bows/wren.svg → pictures/bows/dipper.svg"},
		schema.KindExample: {"pictures/wren/side.jpg → pictures/dipper/side.jpg", "pictures/wren/unnamed.jpg → pictures/dipper/unnamed.jpg",
			"pictures/bows/wren.svg → pictures/bows/dipper.svg", "pictures/bows/wren-two.svg → pictures/bows/dipper-two.svg"},
	} {
		changes, err := Prepare(ref, files, kind, "wren", "dipper")
		if err != nil {
			t.Fatal(err)
		}
		var moved []string
		for i, c := range changes {
			if strings.HasPrefix(c.File, "pictures/") && c.After == nil {
				to := changes[i+1]
				moved = append(moved, c.File+" → "+to.File)
				if !bytes.Equal(c.Before, files[c.File].Data) || !bytes.Equal(to.After, c.Before) {
					t.Errorf("%s does not stay what it was: %q, %q", c.File, c.Before, to.After)
				}
			}
		}
		if !slices.Equal(moved, want) {
			t.Errorf("of the %s moves %q, want %q", kind, moved, want)
		}
		after, _, err := schema.ReadFS(journal.Over(files, changes), "r")
		if err != nil {
			t.Fatal(err)
		}
		for _, r := range after.Records() {
			if source := string(r.Header().Source); kind == schema.KindModel && strings.Contains(source, "bows/wren.svg") {
				t.Errorf("%s still names the old file:\n%s", r.Header().File, source)
			}
		}
	}
	files["pictures/bows/dipper.svg"] = &fstest.MapFile{Data: []byte("f")}
	ref, _, _ = schema.ReadFS(files, "r")
	changes, err := Prepare(ref, files, schema.KindModel, "wren", "dipper")
	if err != nil || slices.ContainsFunc(changes, func(c journal.Change) bool { return strings.HasPrefix(c.File, "pictures/") }) {
		t.Errorf("a picture is moved over another: %v, %v", changes, err)
	}
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
		if _, err := Prepare(ref, folder(t), schema.KindModel, c.old, c.new); err == nil || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%s to %s: %v, want %q", c.old, c.new, err, c.says)
		}
	}
}
