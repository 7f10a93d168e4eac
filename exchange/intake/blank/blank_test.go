package blank

import (
	"context"
	"io"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"yearmark/checks"
	"yearmark/exchange/journal"
	"yearmark/schema"
	"yearmark/testdata/need"
)

// reference reads a reference of this repository.
func reference(t *testing.T, below ...string) *schema.Reference {
	t.Helper()
	ref, _, err := schema.Read(filepath.Join(append([]string{need.Root(t)}, below...)...))
	if err != nil {
		t.Fatal(err)
	}
	return ref
}

// copyOf is a copy of the starting reference that may be written to.
func copyOf(t *testing.T) string {
	t.Helper()
	folder := filepath.Join(t.TempDir(), "r")
	if err := os.CopyFS(folder, os.DirFS(filepath.Join(need.Root(t), "builder", "starter", "files"))); err != nil {
		t.Fatal(err)
	}
	return folder
}

// open lets a test write to a folder, for as long as the test of one call.
func open(t *testing.T, folder string) *journal.Journal {
	t.Helper()
	j, err := journal.Open(context.Background(), folder, io.Discard)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = j.Close() })
	return j
}

// blanks are what is left to write in a blank record of each kind: the check
// that asks for it, and the key it asks for.
var blanks = map[schema.Kind][]string{
	schema.KindMaker:   {"no-years span", "uncited-claim span"},
	schema.KindModel:   {"missing-key maker", "no-years span", "uncited-claim span"},
	schema.KindFeature: {"missing-key id"},
	schema.KindSource:  {"missing-key kind"},
	schema.KindExample: nil,
	schema.KindPage:    nil,
}

// TestCheckerListsTheBlanks writes a blank of each kind: the only errors are
// the blanks, each at the line of its key.
func TestCheckerListsTheBlanks(t *testing.T) {
	for _, kind := range schema.Kinds {
		t.Run(string(kind), func(t *testing.T) {
			folder := copyOf(t)
			w, err := Write(open(t, folder), reference(t, "builder", "starter", "files"), kind, "grey-plover")
			if err != nil {
				t.Fatal(err)
			}
			ref, problems, err := schema.Read(folder)
			if err != nil {
				t.Fatal(err)
			}
			report, err := checks.Run(t.Context(), checks.Input{Ref: ref, Problems: problems, Files: os.DirFS(folder)})
			if err != nil {
				t.Fatal(err)
			}
			text, err := os.ReadFile(filepath.Join(folder, filepath.FromSlash(w.Record)))
			if err != nil {
				t.Fatal(err)
			}
			lines := strings.Split(string(text), "\n")
			var got []string
			for _, f := range report.Findings {
				if f.Level != checks.Error {
					continue
				}
				if f.Pos.File() != w.Record {
					t.Errorf("an error elsewhere: %s: %s", f.Pos, f.Message)
					continue
				}
				key, _, _ := strings.Cut(strings.TrimLeft(lines[f.Pos.Line()-1], " -"), ":")
				got = append(got, f.Check+" "+key)
			}
			slices.Sort(got)
			if !slices.Equal(got, blanks[kind]) {
				t.Errorf("the errors are %q, want %q", got, blanks[kind])
			}
		})
	}
}

// commented finds a key or an entry behind a sign that takes its line out.
var commented = regexp.MustCompile(`(?m)^#([a-z-]+:|  )`)

// TestEveryCommentIsAKey takes the sign off every line that has one: each key
// is one that such a record has, in its place.
func TestEveryCommentIsAKey(t *testing.T) {
	ref := reference(t, "content")
	for _, kind := range schema.Kinds {
		text, err := Form(ref, kind, "grey-plover")
		if err != nil {
			t.Fatal(err)
		}
		n := len(commented.FindAll(text, -1))
		_, problems := schema.ReadRecord(kind.Folder()+"/grey-plover.md", commented.ReplaceAll(text, []byte("$1")))
		for _, p := range problems {
			switch p.Check {
			case schema.CheckMissingKey, schema.CheckNoYears: // the blanks
			case schema.CheckMisplacedKey: // values stand beside unit, plausible and step, each for its own kind of feature
				if kind != schema.KindFeature {
					t.Errorf("%s: %s: %s", kind, p.Pos, p.Message)
				}
			default:
				t.Errorf("%s: %s: %s: %s", kind, p.Pos, p.Check, p.Message)
			}
		}
		if least := map[schema.Kind]int{schema.KindModel: 35, schema.KindExample: 30, schema.KindPage: 2}[kind]; n < max(least, 2) {
			t.Errorf("%s: only %d keys stand in comments", kind, n)
		}
		if !strings.HasPrefix(string(text), "---\n# yaml-language-server: $schema=../.yearmark/"+string(kind)+".schema.json\nrecord: "+string(kind)+"\n") {
			t.Errorf("%s begins %.120s", kind, text)
		}
	}
}

func TestAsksOfEveryFeature(t *testing.T) {
	ref := reference(t, "content")
	example, err := Form(ref, schema.KindExample, "0099")
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range ref.Features.All() {
		line := "#  - {feature: " + f.ID + ", value: }   # " + f.Ask.Value
		if !strings.Contains(string(example), line) {
			t.Errorf("the example does not ask %q", line)
		}
	}
	if !strings.Contains(string(example), "What wood is the riser made of? elm, ash, walnut") {
		t.Error("the example does not name the woods")
	}
}

func TestNeverWritesOver(t *testing.T) {
	folder := copyOf(t)
	j := open(t, folder)
	ref := reference(t, "builder", "starter", "files")
	if _, err := Write(j, ref, schema.KindModel, "wren"); err == nil || !strings.Contains(err.Error(), "models/wren.md is there already") {
		t.Errorf("over a record: %v", err)
	}
	first, err := Write(j, ref, schema.KindModel, "robin")
	if err != nil || first.Schemas != 7 {
		t.Fatalf("%+v, %v", first, err)
	}
	mine := filepath.Join(folder, journal.Folder, "model.schema.json")
	if err := os.WriteFile(mine, []byte("{}"), 0o644); err != nil {
		t.Fatal(err)
	}
	second, err := Write(j, ref, schema.KindModel, "linnet")
	if err != nil || second.Schemas != 0 {
		t.Errorf("%+v, %v", second, err)
	}
	if data, err := os.ReadFile(mine); err != nil || string(data) != "{}" {
		t.Errorf("the schema that was there is %q, %v", data, err)
	}
}

func TestNames(t *testing.T) {
	folder := copyOf(t)
	j := open(t, folder)
	ref := reference(t, "builder", "starter", "files")
	for _, id := range []string{"", "Plover", "../plover", "a/b", "con", ".hidden", "plover.md", "-", "plövér"} {
		if w, err := Write(j, ref, schema.KindModel, id); err == nil {
			t.Errorf("%q is written as %s", id, w.Record)
		}
	}
	for id, want := range map[string]string{"null": "Null", "on": "On", "0123": "0123", "grey-plover": "Grey plover", "1e3": "1e3"} {
		w, err := Write(j, ref, schema.KindPage, id)
		if err != nil {
			t.Fatal(err)
		}
		text, err := os.ReadFile(filepath.Join(folder, filepath.FromSlash(w.Record)))
		if err != nil {
			t.Fatal(err)
		}
		r, problems := schema.ReadRecord(w.Record, text)
		if len(problems) > 0 || r.Title() != want {
			t.Errorf("%s reads as %q: %v", id, r.Title(), problems)
		}
	}
	w, err := Write(j, ref, schema.KindExample, "")
	if err != nil || w.Record != "examples/0002.md" {
		t.Errorf("the next example is %s, %v", w.Record, err)
	}
}

// TestStaysInTheFolder has the folder of models be a link that leads out.
func TestStaysInTheFolder(t *testing.T) {
	folder, outside := t.TempDir(), t.TempDir()
	if err := os.Symlink(outside, filepath.Join(folder, "models")); err != nil {
		t.Log("links cannot be made here:", err)
		return
	}
	j := open(t, folder)
	if w, err := Write(j, &schema.Reference{}, schema.KindModel, "plover"); err == nil {
		t.Errorf("%s is written through a link", w.Record)
	}
	if entries, err := os.ReadDir(outside); err != nil || len(entries) > 0 {
		t.Errorf("outside there is %v, %v", entries, err)
	}
}

// TestCommentsStayComments asks in a feature what would end a comment.
func TestCommentsStayComments(t *testing.T) {
	feature, _ := schema.ReadRecord("features/odd.md", []byte("---\nrecord: feature\nname: Odd\nask: \"one\\ntwo: [\\r---\\n\"\nkind: presence\n---\n"))
	ref, _ := schema.Assemble("", schema.Settings{}, []schema.Record{feature}, schema.Media{})
	for _, kind := range schema.Kinds {
		text, err := Form(ref, kind, "x")
		if err != nil {
			t.Fatal(err)
		}
		if _, problems := schema.ReadRecord(kind.Folder()+"/x.md", text); slices.ContainsFunc(problems, func(p schema.Problem) bool {
			return p.Check != schema.CheckMissingKey && p.Check != schema.CheckNoYears
		}) {
			t.Errorf("%s: %v\n%s", kind, problems, text)
		}
	}
}
