package intake

import (
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"yearmark/schema"
	"yearmark/testdata/need"
)

func jsonOf(s *Submission) ([]byte, error) { return json.Marshal(s) }

// take takes a submission in, or ends the test.
func take(t testing.TB, d *Inbox, s *Submission) *Receipt {
	t.Helper()
	r, err := d.Take(encoded(t, s))
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// like is a submission of a bow on record, as another visitor might send it.
func like(e *schema.Example) *Submission {
	s := full()
	s.Model, s.WeightMark, s.Observed, s.Marks = e.Model.Value, e.WeightMark.Value, nil, nil
	for _, o := range e.Observed {
		one := Seen{Feature: o.Feature.Value, Sure: string(o.Sureness())}
		for _, v := range o.Value {
			one.Values = append(one.Values, v.Value)
		}
		s.Observed = append(s.Observed, one)
	}
	return s
}

// TestKnowsABowAgain sends bows on record once more: each is named, and no
// bow with a number of its own is taken for another.
func TestKnowsABowAgain(t *testing.T) {
	d := newTestInbox(t)
	numbered, marked, apart := 0, 0, 0
	for _, e := range d.ref.Examples.All() {
		r := take(t, d, like(e))
		found := slices.ContainsFunc(r.Alike, func(a Alike) bool { return a.Example == e.ID })
		hasNumber := len(d.bows.numbers(bowOf(e))) > 0
		switch {
		case hasNumber && !found:
			t.Errorf("%s is not known again by its number", e.ID)
		case hasNumber:
			numbered++
		case e.WeightMark.Value != "" && e.Model.Value != "" && len(e.Observed) >= fewest && !found:
			t.Errorf("%s is not known again by its weight mark and features", e.ID)
		case found:
			marked++
		}
		for _, a := range r.Alike {
			if a.Sure && a.Example != e.ID {
				t.Errorf("%s is taken for %s: %s", e.ID, a.Example, a.Because)
			}
			if a.Example != e.ID {
				apart++
			}
		}
	}
	if numbered < 5 || marked < 5 || apart > 2 {
		t.Errorf("known again: %d by number, %d by weight mark; %d taken for others", numbered, marked, apart)
	}
}

func TestSaysWhyABowIsAlike(t *testing.T) {
	d := newTestInbox(t)
	robin, _ := d.ref.Examples.Get("0007")
	for _, c := range []struct {
		name   string
		change func(*Submission)
		want   string // of example 0007; empty if it is not alike
	}{
		{"as it is", func(*Submission) {}, "the same serial number"},
		{"the number written otherwise", func(s *Submission) { s.Observed[7].Values = []string{"65 / 172"} }, "the same serial number"},
		{"another wood", func(s *Submission) { s.Observed[0].Values = []string{"elm"} }, "the same serial number; differs in riser wood"},
		{"another wood, unsure", func(s *Submission) { s.Observed[0].Values, s.Observed[0].Sure = []string{"elm"}, "unsure" }, "the same serial number"},
		{"another model of the maker", func(s *Submission) { s.Model = "whinchat" }, "the same serial number; differs in model"},
		{"another maker", func(s *Submission) { s.Model = "ling" }, ""},
		{"no model", func(s *Submission) { s.Model = "" }, "the same serial number"},
		{"another number", func(s *Submission) { s.Observed[7].Values = []string{"65-173"} }, ""},
		{"no number", func(s *Submission) { s.Observed = s.Observed[:7] }, "the same model and weight mark, and alike in all 7 features seen on both"},
		{"neither", func(s *Submission) { s.Observed, s.WeightMark = s.Observed[:7], "" }, ""},
		{"too little seen", func(s *Submission) { s.Observed = s.Observed[:2] }, ""},
	} {
		s := like(robin)
		if s.Observed[7].Feature != "serial-number" {
			t.Fatal("example 0007 has changed")
		}
		c.change(s)
		got := ""
		for _, a := range take(t, d, s).Alike {
			if a.Example == "0007" {
				got = a.Because
			}
		}
		if got != c.want {
			t.Errorf("%s: %q, want %q", c.name, got, c.want)
		}
	}
}

// TestPrivateNumberStaysPrivate finds a bow by a number that is kept in
// private, and says so to the editor alone: not in the record, not in the JSON.
func TestPrivateNumberStaysPrivate(t *testing.T) {
	d := newTestInbox(t)
	d.bows.add(bow{id: "0099", name: "Example 0099", number: "66019"})
	r := take(t, d, full())
	if len(r.Alike) != 1 || !r.Alike[0].private || !strings.Contains(r.Alike[0].Because, "kept in private") {
		t.Fatalf("alike: %+v", r.Alike)
	}
	if strings.Contains(string(d.Changes()[0].After), "0099") {
		t.Errorf("the record names it:\n%s", d.Changes()[0].After)
	}
	sum := Summary{}
	sum.Took("x.json", r)
	if len(sum.Received[0].Alike) != 0 {
		t.Errorf("the JSON names it: %+v", sum.Received)
	}
}

func TestSumLeavesPrivateOut(t *testing.T) {
	a, b := full(), full()
	b.Private, b.Photographs = &Private{Name: "someone else"}, nil
	if a.sum() != b.sum() {
		t.Error("the checksum, which is published, depends on what is private")
	}
	b.Note += "."
	if a.sum() == b.sum() {
		t.Error("the checksum does not see another note")
	}
}

func TestFilesUnderTheNextNumber(t *testing.T) {
	d := newTestInbox(t)
	d.taken = func(file string) bool { return file == "examples/0054.md" } // no readable record, but a file
	for i, want := range []string{"0053", "0055", "0055"} {
		s := full()
		s.Note = fmt.Sprint(min(i, 1)) // the second twice
		if r := take(t, d, s); r.ID != want || r.Before != (i == 2) || len(r.Adds) > 0 {
			t.Errorf("submission %d is filed as %+v", i, r)
		}
	}
	var files []string
	for _, c := range d.Changes() {
		files = append(files, c.File)
	}
	if !slices.Equal(files, []string{"examples/0053.md", "examples/0055.md"}) {
		t.Errorf("it would write %v", files)
	}
}

// TestWhatIsSentAgainIsAdded sends a bow once more with photographs, then with
// another address: both stand in the record beside what was there, and nothing
// else changes, whether the first was filed now or by an earlier call.
func TestWhatIsSentAgainIsAdded(t *testing.T) {
	first, more, mended := full(), full(), full()
	first.Private, first.Photographs = &Private{Contact: "old@example.org"}, nil
	more.Private, more.Photographs = &Private{Contact: "old@example.org"}, []Photograph{{File: "a.jpg"}}
	mended.Private, mended.Photographs = &Private{Name: "Ann", Contact: "new@example.org"}, []Photograph{{File: "a.jpg"}, {File: "b.jpg"}}
	d := newTestInbox(t)
	take(t, d, first)
	record := string(d.Changes()[0].After)
	restart := func() {
		c := d.Changes()[0]
		read, problems := schema.ReadRecord(c.File, c.After)
		if len(problems) > 0 {
			t.Fatal(problems)
		}
		e := read.(*schema.Example)
		d = newTestInbox(t)
		d.filed[e.Submitted.Sum.Value] = e
	}
	for i, c := range []struct {
		s    *Submission
		adds []string
	}{{first, nil}, {more, []string{"photographs"}}, {more, nil}, {mended, []string{"name", "contact", "photographs"}}, {mended, nil}, {first, nil}} {
		if i == 3 {
			restart()
		}
		if r := take(t, d, c.s); !r.Before || !slices.Equal(r.Adds, c.adds) {
			t.Errorf("sent again %d: before %v, adds %v, want %v", i, r.Before, r.Adds, c.adds)
		}
	}
	want := strings.TrimSuffix(record, "---\n") + `  photographs: "a.jpg"
  name: "Ann"
  contact-2: "new@example.org"
  photographs-2: "a.jpg; b.jpg"
---
`
	if got := d.Changes(); len(got) != 1 || string(got[0].After) != want || got[0].Before == nil {
		t.Errorf("got %q\nwant %q", got[0].After, want)
	}
}

func TestListsSubmissionsOnly(t *testing.T) {
	folder := t.TempDir()
	for _, name := range []string{"b.json", "a.JSON", "deep/c.json", ".hidden.json", ".cache/d.json", "bow.jpg", "notes.txt"} {
		path := filepath.Join(folder, filepath.FromSlash(name))
		if err := errors.Join(os.MkdirAll(filepath.Dir(path), 0o755), os.WriteFile(path, nil, 0o644)); err != nil {
			t.Fatal(err)
		}
	}
	files, err := Files(folder)
	var names []string
	for _, f := range files {
		name, _ := filepath.Rel(folder, f)
		names = append(names, filepath.ToSlash(name))
	}
	if err != nil || !slices.Equal(names, []string{"a.JSON", "b.json", "deep/c.json"}) {
		t.Errorf("%v, %v", names, err)
	}
	for path, want := range map[string]string{filepath.Join(folder, "nothing"): "there is no file", t.TempDir(): "no file in"} {
		if _, err := Files(path); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%s: %v", path, err)
		}
	}
	if _, err := ReadFile(folder); err == nil {
		t.Error("a folder is read as a file")
	}
}

func TestTellsWithoutWhatIsPrivate(t *testing.T) {
	d := newTestInbox(t)
	s := full()
	s.Private = &Private{Name: "zqname", Contact: "zqcontact"}
	s.Photographs = []Photograph{{File: "zqfile.jpg", Shows: "zqshows"}}
	s.Dated.Year = 1966
	s.Reference = "Another register"
	var b strings.Builder
	if err := d.Report(&b, take(t, d, s), "2026-11-14 000000000000"); err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{`made for     the site of "Another register", not this one`, "Riser wood: Padauk", "Oval or Script, unsure (worn)", "41 lb", "maker's mark: face of the upper limb", "Found in a loft.", "The visitor's page made it: Plover, 1966", "Plover by Halvane Archery: 1965 or 1966, most likely 1965"} {
		if !strings.Contains(b.String(), want) {
			t.Errorf("it does not say %q:\n%s", want, b.String())
		}
	}
	if strings.Contains(b.String(), "zq") {
		t.Errorf("it tells what is private:\n%s", b.String())
	}
}

// TestWhatTheFormOffersIsReadAgain: an answer that the form takes, a value that
// is none of those declared or a range of figures, makes a record without a
// finding.
func TestWhatTheFormOffersIsReadAgain(t *testing.T) {
	s := full()
	s.Observed = []Seen{
		{Feature: "riser-wood", Values: []string{"padauk", schema.SomethingElse}, Sure: "sure"}, {Feature: "draw-weight", Values: []string{"40..45 lb"}, Sure: "sure"},
	}
	d := newTestInbox(t)
	r := take(t, d, s)
	files := fstest.MapFS{r.File(): {Data: d.Changes()[0].After}}
	content := os.DirFS(filepath.Join(need.Root(t), "content"))
	for _, name := range []string{"reference.yaml", "makers/halvane.md", "models/plover.md", "features/riser-wood.md", "features/draw-weight.md"} {
		data, err := fs.ReadFile(content, name)
		if err != nil {
			t.Fatal(err)
		}
		files[name] = &fstest.MapFile{Data: data}
	}
	_, problems, err := schema.ReadFS(files, "r")
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range problems {
		if p.Pos.File() == r.File() {
			t.Errorf("%s: %s", p.Pos, p.Message)
		}
	}
}
