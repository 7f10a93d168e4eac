package checks

import (
	"bytes"
	"strings"
	"testing"
	"testing/fstest"

	"yearmark/schema"
)

// brokenBase is the base of the fixtures with some text replaced in one file, or
// with the file under another name.
func brokenBase(t *testing.T, file, old, by string) fstest.MapFS {
	t.Helper()
	files := base(t)
	text := string(files[file].Data)
	if !strings.Contains(text, old) {
		t.Fatalf("%s does not hold %q", file, old)
	}
	files[file] = &fstest.MapFile{Data: []byte(strings.Replace(text, old, by, 1))}
	return files
}

func moved(t *testing.T, from, to string) fstest.MapFS {
	t.Helper()
	files := base(t)
	files[to] = files[from]
	delete(files, from)
	return files
}

// What misses a record that could not be read is one line under the cause,
// which comes first, whatever its file is called.
func TestTheCauseSpeaksFirst(t *testing.T) {
	folder := base(t)
	for name := range base(t) {
		if rest, ok := strings.CutPrefix(name, "sources/"); ok {
			folder["source/"+rest] = folder[name]
			delete(folder, name)
		}
	}
	for name, c := range map[string]struct {
		files fstest.MapFS
		cause string
	}{
		"a quote":           {brokenBase(t, "sources/list-1958.md", "Price list 1958", `"Price list 1958`), "sources/list-1958.md"},
		"a value lost":      {brokenBase(t, "features/riser-wood.md", "id: padauk", "id: [padauk]"), "features/riser-wood.md"},
		"an ending":         {moved(t, "sources/list-1958.md", "sources/list-1958.md.txt"), "sources/list-1958.md.txt"},
		"a capital":         {moved(t, "sources/list-1958.md", "sources/List 1958.md"), "sources/List 1958.md"},
		"the wrong folder":  {moved(t, "sources/list-1958.md", "features/list-1958.md"), "features/list-1958.md"},
		"no folder":         {moved(t, "sources/list-1958.md", "list-1958.md"), "list-1958.md"},
		"a nested folder":   {moved(t, "sources/list-1958.md", "sources/old/list-1958.md"), "sources/old"},
		"a folder misspelt": {folder, "source"},
	} {
		t.Run(name, func(t *testing.T) {
			report, ref := reportOn(t, c.files)
			text := written(t, func(b *bytes.Buffer) error { return Text(b, report, ref, TextOptions{Files: c.files}) })
			if first, _, _ := strings.Cut(text, "\n"); first != c.cause {
				t.Errorf("the cause does not come first:\n%s", text)
			}
			if strings.Contains(text, "there is no ") || strings.Contains(text, "leads nowhere") || strings.Contains(text, "padauk\" is not a value") {
				t.Errorf("what follows is told too:\n%s", text)
			}
			if strings.Count(text, "hence  ") != 1 {
				t.Errorf("what follows is not one line:\n%s", text)
			}
			if json := written(t, func(b *bytes.Buffer) error { return JSON(b, report) }); strings.Count(json, `"follows"`) < 2 {
				t.Error("the JSON leaves findings out")
			}
		})
	}
}

// A name that nothing would answer to even if all were read stays an error of its own.
func TestWhatDoesNotFollowIsTold(t *testing.T) {
	files := brokenBase(t, "sources/list-1958.md", "Price list 1958", `"Price list 1958`)
	files["models/plover.md"] = &fstest.MapFile{Data: bytes.Replace(files["models/plover.md"].Data, []byte("list-1971, p. 9"), []byte("list-1917, p. 9"), 1)}
	report, ref := reportOn(t, files)
	text := written(t, func(b *bytes.Buffer) error { return Text(b, report, ref, TextOptions{}) })
	if !strings.Contains(text, `there is no source "list-1917"`) {
		t.Errorf("a slip of its own is folded away:\n%s", text)
	}
}

func TestNotesAreCounted(t *testing.T) {
	report := Report{Records: 3, Counts: Counts{Warning: 1, Note: 3}, Findings: []Finding{
		{Check: "era-gap", Level: Note, Pos: schema.At("models/a.md", 1, 1), Message: "first gap"},
		{Check: "era-gap", Level: Note, Pos: schema.At("models/b.md", 1, 1), Message: "second gap"},
		{Check: "no-kept-copy", Level: Warning, Pos: schema.At("models/b.md", 2, 1), Message: "no copy"},
		{Check: "open-dispute", Level: Note, Pos: schema.At("models/c.md", 1, 1), Message: "a dispute"},
	}}
	counts := written(t, func(b *bytes.Buffer) error {
		return Text(b, report, nil, TextOptions{Notes: "yearmark check r --notes"})
	})
	for _, part := range []string{"no copy", "\n3 notes: ", "\n   2  era-gap ", "\n   1  open-dispute ", "To list them: yearmark check r --notes\n", "\n1 warning, 3 notes in 3 records\n"} {
		if !strings.Contains(counts, part) {
			t.Errorf("%q is not said:\n%s", part, counts)
		}
	}
	if strings.Contains(counts, "first gap") {
		t.Errorf("a note is written in full:\n%s", counts)
	}
	full := written(t, func(b *bytes.Buffer) error { return Text(b, report, nil, TextOptions{}) })
	if !strings.Contains(full, "first gap") || !strings.Contains(full, "a dispute") || strings.Contains(full, "To list") {
		t.Errorf("not all notes are listed:\n%s", full)
	}
}

// TestErrorsComeBeforeWarnings: the files with errors come first, each whole, in their order.
func TestErrorsComeBeforeWarnings(t *testing.T) {
	report := Report{Findings: []Finding{
		{Check: "no-kept-copy", Level: Warning, Pos: schema.At("models/a.md", 1, 1), Message: "one"},
		{Check: "no-kept-copy", Level: Warning, Pos: schema.At("models/b.md", 1, 1), Message: "two"},
		{Check: "contradiction", Level: Error, Pos: schema.At("models/b.md", 2, 1), Message: "three"},
		{Check: "no-kept-copy", Level: Warning, Pos: schema.At("models/c.md", 1, 1), Message: "four"},
		{Check: "contradiction", Level: Error, Pos: schema.At("models/d.md", 2, 1), Message: "five"},
	}}
	var b strings.Builder
	if err := Text(&b, report, nil, TextOptions{}); err != nil {
		t.Fatal(err)
	}
	at := -1
	for _, words := range []string{"models/b.md", "two", "three", "models/d.md", "five", "models/a.md", "one", "models/c.md", "four"} {
		next := strings.Index(b.String(), words)
		if next <= at {
			t.Fatalf("%q does not follow in\n%s", words, b.String())
		}
		at = next
	}
}
