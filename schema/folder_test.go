package schema

import (
	"fmt"
	"os"
	"path/filepath"
	"reflect"
	"testing"
	"time"

	"pgregory.net/rapid"
)

// writings are the texts that a file of each folder takes on in turn: whole,
// broken, naming what comes and goes.
var writings = map[string][]string{
	"makers": {
		"record: maker\nname: Halvane\norder:\n  - {first: m1/oval, how: before, second: m2/oval, cites: [s1]}",
		"record: maker\nname: Halvane Archery\ntrading: {span: 1950/1970, cites: [s2]}",
		"record: maker\nname: [",
	},
	"models": {
		"record: model\nname: Plover\nmaker: k1\nmade: {span: 1960/1965, cites: [s1]}\nfeatures:\n  - {id: oval, feature: f1, value: oval, span: 1961, cites: [s2]}\nspecs:\n  - {spec: f2, range: 30..40, span: 1961, cites: [s1]}",
		"record: model\nname: Dunlin\nmaker: k2\nfeatures:\n  - {id: oval, feature: f1, value: script, span: 1962, cites: [s9]}\norder:\n  - {first: oval, how: before, second: m2/oval}\n  - {first: m3/oval, how: meets, second: oval}",
		"record: model\nname: Knot\nmaker: k1\nspecs:\n  - {spec: f1, range: 30..40 lb, span: 1961, cites: [s1]}\n  - {spec: f2, range: 30..40, span: 1961, cites: [s1]}",
		"record: source\nname: Misplaced",
		"",
	},
	"features": {
		"record: feature\nname: Mark\nkind: choice\nvalues: [{id: oval, name: Oval}, {id: script, name: Script}]",
		"record: feature\nname: Weight\nkind: number\nunit: lb\nplausible: 10..90",
		"record: feature\nname: Weight\nkind: number\nunit: kg\nplausible: 10..90",
	},
	"sources": {"record: source\nname: List\nkind: price-list\nissued: 1960", "record: source\nname: List\nkind: letter\nrelies-on: [s1, s3]",
		"record: source\nname: Talk\nkind: recording\ntranscript: r1.txt\nmend: [{at: \"0:03\", heard: sappy lee, read: sapele}]\nplaces: [{at: \"0:09\", hedge: unsure}]"},
	"recordings": {"0:03 In sappy lee.\n0:09 Or not.\n", "0:03 In sapele.\n", "no time at all\n"},
	"examples":   {"record: example\nmodel: m1\nobserved:\n  - {feature: f1, value: oval}", "record: example\nmodel: m9\nobserved:\n  - {feature: f2, value: 35 kg}"},
	"pictures":   {"<svg/>", "<svg></svg>"},
}

var initials = map[string]string{"makers": "k", "models": "m", "features": "f", "sources": "s", "examples": "e", "pictures": "p", "recordings": "r"}

// edit changes one file of the folder and gives its name.
func edit(t *rapid.T, folder string) string {
	kinds := []string{"models", "models", "makers", "features", "sources", "sources", "examples", "pictures", "recordings"}
	kind := rapid.SampledFrom(kinds).Draw(t, "kind")
	if rapid.IntRange(0, 19).Draw(t, "folder") == 0 {
		if os.Rename(filepath.Join(folder, kind), filepath.Join(folder, "."+kind)) != nil {
			_ = os.Rename(filepath.Join(folder, "."+kind), filepath.Join(folder, kind))
		}
		return kind
	}
	name := fmt.Sprintf("%s/%s%d", kind, initials[kind], rapid.IntRange(1, 3).Draw(t, "number"))
	switch kind {
	case "pictures":
		name += ".svg"
	case "recordings":
		name += ".txt"
	default:
		name += ".md"
	}
	if rapid.IntRange(0, 9).Draw(t, "stray") == 0 {
		name += ".txt"
	}
	path := filepath.Join(folder, name)
	if rapid.IntRange(0, 4).Draw(t, "what") == 0 {
		_ = os.Remove(path)
		return name
	}
	text := rapid.SampledFrom(writings[kind]).Draw(t, "text")
	if kind != "pictures" && kind != "recordings" {
		text = "---\n" + text + "\n---\n"
	}
	write(t, path, text)
	return name
}

func write(t interface{ Fatal(...any) }, path, text string) {
	if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
}

func TestAFolderReadAgainIsAsReadAnew(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		folder, err := os.MkdirTemp("", "folder")
		if err != nil {
			t.Fatal(err)
		}
		defer os.RemoveAll(folder)
		write(t, filepath.Join(folder, SettingsFile), "name: R\nyears: 1930/1985\n")
		f := NewFolder(folder)
		for range rapid.IntRange(1, 25).Draw(t, "edits") {
			names := []string{edit(t, folder)}
			if rapid.IntRange(0, 3).Draw(t, "two") == 0 {
				names = append(names, edit(t, folder))
			}
			before := f.ref
			foretold, troubles, ok := foretell(f, folder, names)
			var ref *Reference
			var problems Problems
			if rapid.Bool().Draw(t, "told") {
				ref, problems, err = f.Renew(names)
			} else {
				ref, problems, err = f.Read()
			}
			if err != nil {
				t.Fatal(err)
			}
			fresh, want, err := Read(folder)
			if err != nil {
				t.Fatal(err)
			}
			if !reflect.DeepEqual(problems, want) {
				t.Fatalf("after %q: problems\n%v\nwant\n%v", names, problems, want)
			}
			if !reflect.DeepEqual(ref, fresh) {
				t.Fatalf("after %q the reference differs from one read anew", names)
			}
			keepsOthers(t, before, ref, names)
			if ok && !(reflect.DeepEqual(foretold, fresh) && reflect.DeepEqual(troubles, want)) {
				t.Fatalf("after %q the reference was foretold otherwise, with problems\n%v\nwant\n%v", names, troubles, want)
			}
		}
	})
}

// foretell asks what the folder would give with the files named as they are now.
func foretell(f *Folder, folder string, names []string) (*Reference, Problems, bool) {
	changed := map[string][]byte{}
	for _, name := range names {
		changed[name], _ = os.ReadFile(filepath.Join(folder, name))
	}
	return f.With(changed)
}

// keepsOthers wants records without ties to what changed to be the very same.
func keepsOthers(t *rapid.T, before, after *Reference, names []string) {
	if before == nil {
		return
	}
	for _, s := range after.Sources.All() {
		if old, ok := before.Sources.Get(s.ID); ok && old != s && !named(names, s.File) && s.Transcript.Value == "" {
			t.Fatalf("%s was read again after %q", s.File, names)
		}
	}
}

func named(names []string, file string) bool {
	for _, n := range names {
		if n == file {
			return true
		}
	}
	return false
}

func TestAnEditIsSeenWhenSizeAndTimeAreTheSame(t *testing.T) {
	folder := t.TempDir()
	write(t, filepath.Join(folder, SettingsFile), "name: R\nyears: 1930/1985\n")
	file := filepath.Join(folder, "sources", "s1.md")
	write(t, file, "---\nrecord: source\nname: One\nkind: letter\n---\n")
	at := time.Now().Add(-time.Second)
	if err := os.Chtimes(file, at, at); err != nil {
		t.Fatal(err)
	}
	f := NewFolder(folder)
	if _, _, err := f.Read(); err != nil {
		t.Fatal(err)
	}
	write(t, file, "---\nrecord: source\nname: Two\nkind: letter\n---\n")
	if err := os.Chtimes(file, at, at); err != nil {
		t.Fatal(err)
	}
	ref, _, err := f.Read()
	if err != nil {
		t.Fatal(err)
	}
	if s, _ := ref.Sources.Get("s1"); s.Title() != "Two" {
		t.Errorf("the source is called %q", s.Title())
	}
}

func TestAReferenceThatCannotBeReadIsReadAgainLater(t *testing.T) {
	folder := t.TempDir()
	settings := filepath.Join(folder, SettingsFile)
	write(t, settings, "name: R\nyears: 1930/1985\n")
	f := NewFolder(folder)
	if _, _, err := f.Read(); err != nil {
		t.Fatal(err)
	}
	write(t, filepath.Join(folder, "sources", "s1.md"), "---\nrecord: source\nname: One\nkind: letter\n---\n")
	if err := os.Remove(settings); err != nil {
		t.Fatal(err)
	}
	if _, _, err := f.Renew([]string{"sources/s1.md", SettingsFile}); err == nil {
		t.Error("a folder without settings was read")
	}
	write(t, settings, "name: R\nyears: 1930/1985\n")
	ref, _, err := f.Renew([]string{SettingsFile})
	if err != nil {
		t.Fatal(err)
	}
	if ref.Sources.Len() != 1 {
		t.Error("the source that came meanwhile is not there")
	}
}
