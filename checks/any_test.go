package checks

import (
	"bytes"
	"io"
	"maps"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"pgregory.net/rapid"

	"yearmark/schema"
)

// Whatever is done to a reference, every check comes to its end, and whatever
// is found has a file, a message and a remedy, and can be written in every form.
func TestAnyReference(t *testing.T) {
	all := fixtures(t)
	rapid.Check(t, func(t *rapid.T) {
		files := maps.Clone(rapid.SampledFrom(all).Draw(t, "fixture").bad)
		names := slices.Sorted(maps.Keys(files))
		for range rapid.IntRange(1, 6).Draw(t, "changes") {
			name := rapid.SampledFrom(names).Draw(t, "file")
			files[name] = &fstest.MapFile{Data: spoiled(t, files[name].Data)}
		}
		ref, problems, err := schema.ReadFS(files, "any")
		if err != nil {
			return
		}
		report := whole(t, Input{Ref: ref, Problems: problems, Files: files})
		for _, f := range report.Findings {
			if f.Check == checkUnfinished.Name {
				t.Fatalf("%s", f.Message)
			}
			if f.Pos.File() == "" || f.Message == "" || f.Help == "" {
				t.Fatalf("incomplete: %+v", f)
			}
		}
		for _, write := range []func(io.Writer) error{
			func(w io.Writer) error { return Text(w, report, ref, TextOptions{Color: true, Files: files}) },
			func(w io.Writer) error { return JSON(w, report) },
			func(w io.Writer) error { return SARIF(w, report, nil) },
		} {
			if err := write(io.Discard); err != nil {
				t.Fatal(err)
			}
		}
	})
}

// spoiled changes a text as a slip of the keyboard, the editor or the disk would.
func spoiled(t *rapid.T, data []byte) []byte {
	if len(data) > 1<<20 {
		return data[:1000]
	}
	lines := bytes.SplitAfter(data, []byte("\n"))
	at := rapid.IntRange(0, len(lines)-1).Draw(t, "line")
	switch rapid.IntRange(0, 4).Draw(t, "how") {
	case 0:
		return bytes.Join(slices.Delete(lines, at, at+1), nil)
	case 1:
		return bytes.Join(slices.Insert(lines, at, lines[at]), nil)
	case 2:
		other := rapid.IntRange(0, len(lines)-1).Draw(t, "other")
		lines[at], lines[other] = lines[other], lines[at]
		return bytes.Join(lines, nil)
	case 3:
		return []byte(strings.Replace(string(data), "19", rapid.SampledFrom([]string{"18", "20", "19X", "[19", "-19", "1e9", "?"}).Draw(t, "year"), 2))
	}
	if len(data) == 0 {
		return []byte("-")
	}
	i := rapid.IntRange(0, len(data)-1).Draw(t, "byte")
	bad := slices.Clone(data)
	bad[i] = rapid.SampledFrom([]byte("{}[]:,\"'#-\n ~/?%0\x00\xff*&!|>@`")).Draw(t, "character")
	return bad
}
