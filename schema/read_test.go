package schema

import (
	"bytes"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"reflect"
	"runtime"
	"slices"
	"strings"
	"testing"
	"testing/fstest"
	"time"

	"github.com/google/go-cmp/cmp"

	"yearmark/schema/edtf"
	"yearmark/testdata/need"
)

const smallSettings = "name: Small\nyears: 1930/1985\n"

// folder writes files into a fresh folder and gives its path.
func folder(t *testing.T, files map[string]string) string {
	t.Helper()
	dir := t.TempDir()
	for name, text := range files {
		file := filepath.Join(dir, filepath.FromSlash(name))
		if err := os.MkdirAll(filepath.Dir(file), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(file, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	return dir
}

func TestFoldersThatCannotBeRead(t *testing.T) {
	aFile := filepath.Join(folder(t, map[string]string{"x": ""}), "x")
	for _, test := range []struct {
		name, dir string
		want      []string
	}{
		{"missing", filepath.Join(t.TempDir(), "none"), []string{"there is no folder", "none", "yearmark begin"}},
		{"a file", aFile, []string{"is a file, not a folder"}},
		{"empty", t.TempDir(), []string{"is empty", "yearmark begin"}},
		{"no settings", folder(t, map[string]string{"models/a.md": ""}), []string{"there is no reference.yaml", "name the folder that holds it"}},
		{"other ending", folder(t, map[string]string{"reference.yml": ""}), []string{"reference.yml", "rename it to reference.yaml"}},
		{"one folder down", folder(t, map[string]string{"bows/reference.yaml": smallSettings}), []string{"in its folder \"bows\""}},
		{"settings a folder", folder(t, map[string]string{"reference.yaml/x": ""}), []string{"reference.yaml", "not a file"}},
		{"a NUL in the name", "a\x00b", []string{"cannot be opened"}},
	} {
		ref, problems, err := Read(test.dir)
		if ref != nil || problems != nil || err == nil {
			t.Errorf("%s: read %v, %v, %v", test.name, ref, problems, err)
			continue
		}
		for _, part := range test.want {
			if !strings.Contains(err.Error(), part) {
				t.Errorf("%s: %q lacks %q", test.name, err, part)
			}
		}
	}
}

// only wants exactly one problem, of that check, in that file.
func only(t *testing.T, problems Problems, check, file string) Problem {
	t.Helper()
	if len(problems) != 1 || problems[0].Check != check || problems[0].Pos.File() != file {
		t.Fatalf("want one problem %s in %s, have %v", check, file, list(problems))
	}
	holdsHouseStyle(t, problems[0])
	return problems[0]
}

func list(problems Problems) []string {
	var all []string
	for i, p := range problems {
		if i == 20 {
			return append(all, "…")
		}
		all = append(all, fmt.Sprintf("%s %s %s", p.Pos, p.Check, p.Message))
	}
	return all
}

func TestHugeRecordIsNotRead(t *testing.T) {
	dir := folder(t, map[string]string{
		"reference.yaml": smallSettings, "makers/small.md": "---\nrecord: maker\nname: Small\n---\n", "makers/huge.md": "---\n",
	})
	if err := os.Truncate(filepath.Join(dir, "makers/huge.md"), 50<<20); err != nil {
		t.Fatal(err)
	}
	var before, after runtime.MemStats
	runtime.ReadMemStats(&before)
	ref, problems, err := Read(dir)
	runtime.ReadMemStats(&after)
	if err != nil {
		t.Fatal(err)
	}
	p := only(t, problems, CheckTooLarge, "makers/huge.md")
	if !strings.Contains(p.Message, "50.0 MB") {
		t.Errorf("the message %q does not tell the size", p.Message)
	}
	if grown := after.TotalAlloc - before.TotalAlloc; grown > 10<<20 {
		t.Errorf("reading took %d bytes: the file was read", grown)
	}
	if _, ok := ref.Makers.Get("small"); !ok {
		t.Error("the small record beside it was not read")
	}
}

// A pipe would be waited for until somebody writes into it.
func TestPipesAndDevicesAreNotOpened(t *testing.T) {
	_, problems, err := ReadFS(fstest.MapFS{
		"reference.yaml": {Data: []byte(smallSettings)}, "makers/pipe.md": {Mode: fs.ModeNamedPipe | 0o644},
	}, "x")
	if err != nil {
		t.Fatal(err)
	}
	if p := only(t, problems, CheckUnreadable, "makers/pipe.md"); p.Message != "this is not a file" {
		t.Errorf("the message is %q", p.Message)
	}
}

func TestFileThatGrowsWhileItIsRead(t *testing.T) {
	source, err := readBounded(bytes.NewReader(make([]byte, 50<<20)), 10)
	if err != nil || len(source) <= MaxRecordBytes || len(source) > 3*MaxRecordBytes {
		t.Errorf("read %d bytes, %v", len(source), err)
	}
}

func TestDeepNesting(t *testing.T) {
	for name, text := range map[string]string{
		"brackets":     strings.Repeat("[", 1000) + strings.Repeat("]", 1000),
		"open":         strings.Repeat("[", 100_000),
		"braces":       strings.Repeat("{a: ", 100_000),
		"hyphens":      "\n" + strings.Repeat("- ", 1_000_000) + "x",
		"questions":    "\n" + strings.Repeat("? ", 1_000_000) + "x",
		"quoted":       "\"" + strings.Repeat("[", 100_000),
		"just beyond":  strings.Repeat("[", 32) + strings.Repeat("]", 32),
		"indented":     "\n" + steps(1000),
		"very deep in": "\n" + steps(1900),
	} {
		done := make(chan Problems, 1)
		go func() {
			_, problems := ReadRecord("pages/a.md", []byte("---\nrecord: page\ntitle: A\nabout: "+text+"\n---\n"))
			done <- problems
		}()
		select {
		case problems := <-done:
			if name == "quoted" {
				if len(problems) == 0 {
					t.Errorf("%s: nothing found", name)
				}
				continue
			}
			only(t, problems, CheckTooDeep, "pages/a.md")
		case <-time.After(20 * time.Second):
			t.Fatalf("%s: reading does not end", name)
		}
	}
}

// steps is YAML whose every line is one space further in.
func steps(n int) string {
	var b strings.Builder
	for i := range n {
		b.WriteString(strings.Repeat(" ", i+1) + "a:\n")
	}
	return b.String()
}

func TestLinksOutOfTheFolder(t *testing.T) {
	outside := folder(t, map[string]string{"secret.md": "---\nrecord: maker\nname: Secret\n---\n", "pictures/a.svg": ""})
	dir := folder(t, map[string]string{
		"reference.yaml": smallSettings, "makers/inside.md": "---\nrecord: maker\nname: Inside\n---\n", "pictures/b.svg": "<svg/>",
	})
	link := func(target, name string) {
		if err := os.Symlink(target, filepath.Join(dir, name)); err != nil {
			need.Missing(t, "no symbolic links here: "+err.Error())
		}
	}
	link(filepath.Join(outside, "secret.md"), "makers/secret.md")
	link("../../../../../../etc/passwd", "makers/passwd.md")
	link("inside.md", "makers/again.md")
	link("nothing.md", "makers/dead.md")
	link("loop.md", "makers/loop.md")
	link(outside, "models")
	link(filepath.Join(outside, "pictures"), "pictures/far")
	link("b.svg", "pictures/near.svg")
	link(filepath.Join(outside, "secret.md"), "pictures/secret.svg")
	link(".", "pictures/itself")
	ref, problems, err := Read(dir)
	if err != nil {
		t.Fatal(err)
	}
	want := map[string]string{
		"makers/secret.md": CheckOutsideFolder, "makers/passwd.md": CheckOutsideFolder, "makers/dead.md": CheckUnreadable,
		"makers/loop.md": CheckOutsideFolder, "models": CheckOutsideFolder, "pictures/far": CheckOutsideFolder,
		"pictures/secret.svg": CheckOutsideFolder, "pictures/itself": CheckOutsideFolder,
	}
	have := map[string]string{}
	for _, p := range problems {
		have[p.Pos.File()] = p.Check
		holdsHouseStyle(t, p)
	}
	if diff := cmp.Diff(want, have); diff != "" {
		t.Error("problems (-want +have):", diff)
	}
	if got := ids(&ref.Makers)(); !slices.Equal(got, []string{"again", "inside"}) {
		t.Errorf("makers %v", got)
	}
	if !slices.Equal(ref.Pictures, []string{"b.svg", "near.svg"}) {
		t.Errorf("pictures %v", ref.Pictures)
	}
}

func TestSettingsByALinkOutOfTheFolder(t *testing.T) {
	outside := folder(t, map[string]string{"reference.yaml": smallSettings})
	dir := t.TempDir()
	if err := os.Symlink(filepath.Join(outside, "reference.yaml"), filepath.Join(dir, "reference.yaml")); err != nil {
		need.Missing(t, "no symbolic links here: "+err.Error())
	}
	if ref, _, err := Read(dir); err == nil || ref != nil || !strings.Contains(err.Error(), "leads out of the reference's folder") {
		t.Errorf("read %v, %v", ref, err)
	}
}

func TestUnreadableFileHidesNoOther(t *testing.T) {
	dir := folder(t, map[string]string{
		"reference.yaml": smallSettings, "makers/open.md": "---\nrecord: maker\nname: Open\n---\n", "makers/shut.md": "---\nrecord: maker\nname: Shut\n---\n",
		"makers/broken.md": "---\nrecord: [\n---\n",
	})
	if err := os.Chmod(filepath.Join(dir, "makers/shut.md"), 0); err != nil {
		t.Fatal(err)
	}
	ref, problems, err := Read(dir)
	if err != nil {
		t.Fatal(err)
	}
	if _, ok := ref.Makers.Get("open"); !ok {
		t.Error("the readable record was lost")
	}
	if os.Getuid() != 0 && len(problems) != 2 {
		t.Errorf("problems %v", list(problems))
	}
	if !slices.ContainsFunc(problems, func(p Problem) bool { return p.Pos == At("makers/broken.md", 2, 9) }) {
		t.Errorf("the broken record's place is missing: %v", list(problems))
	}
}

func TestManyProblemsAreCut(t *testing.T) {
	var b strings.Builder
	b.WriteString("---\nrecord: page\ntitle: A\n")
	for i := range 20_000 {
		fmt.Fprintf(&b, "key%d: \x01\n", i)
	}
	b.WriteString("---\n")
	_, problems := ReadRecord("pages/a.md", []byte(b.String()))
	if len(problems) != maxProblems+1 {
		t.Fatalf("%d problems", len(problems))
	}
	if last := problems[len(problems)-1]; last.Check != CheckTooLarge {
		t.Errorf("the last problem does not say that there are more: %v", last)
	}
}

func TestLongListsAreCut(t *testing.T) {
	text := "---\nrecord: model\nname: A\nmaker: b\nmade: {span: 1960}\nuse: [" + strings.Repeat("x,", MaxClaims+1) + "]\n---\n"
	r, problems := ReadRecord("models/a.md", []byte(text))
	only(t, problems, CheckTooLarge, "models/a.md")
	if n := len(r.(*Model).Use); n != MaxClaims {
		t.Errorf("%d entries kept", n)
	}
}

func TestTooManyFiles(t *testing.T) {
	files := fstest.MapFS{}
	for i := range 7 {
		files[fmt.Sprintf("models/m%d.md", i)] = &fstest.MapFile{}
		files[fmt.Sprintf("sources/s%d.md", i)] = &fstest.MapFile{}
		files[fmt.Sprintf("pictures/a/p%d.svg", i)] = &fstest.MapFile{}
	}
	files["reference.yaml"] = &fstest.MapFile{}
	l := &listing{fsys: files, most: 10}
	if err := l.list("x"); err != nil {
		t.Fatal(err)
	}
	if len(l.records) != 10 || len(l.media.Pictures) != 7 {
		t.Errorf("%d records and %d pictures", len(l.records), len(l.media.Pictures))
	}
	only(t, l.problems, CheckTooLarge, "sources/s3.md")
	l = &listing{fsys: files, most: 5}
	if err := l.list("x"); err != nil {
		t.Fatal(err)
	}
	if len(l.media.Pictures) != 5 || len(l.problems) != 3 {
		t.Errorf("%d pictures, %v", len(l.media.Pictures), list(l.problems))
	}
}

// TestPrivateIsNotTold: no message and no remedy quotes what is private,
// however it is broken.
func TestPrivateIsNotTold(t *testing.T) {
	const secret = "SECRET"
	for _, private := range []string{
		"private: {owner: SECRET: 1}", "private: {owner: @SECRET}", "private: {owner: \"SECRET}", "private:\n  owner: SECRET: 1", "private:\n  owner: @SECRET",
		"private:\n  owner: \"SECRET\" and", "private:\n  owner: [SECRET]", "private: SECRET", "private: [SECRET]", "private: {owner: {name: SECRET}}",
		"private:\n  - owner: SECRET", "private:\n  owner:\n    SECRET: 1", "private: {owner: 'SECRET's}", "private:\n  owner: &SECRET a", "private:\n  owner: *SECRET",
		"private:\n  owner: !SECRET a", "private:\n  a: 1\n  a: SECRET", "private: {owner: A, SECRET}", "private:\n\towner: SECRET", "private:\n  ? SECRET\n  : a: b: c", "private:\n  owner: SECRET\n    SECRET: 1",
		"private:\n  SECRET\n  owner: a", "private:\n  owner:SECRET\n  paid: 5", "private: {SECRET: {a: b}}", "private: {a: b, [SECRET]: c}", "private:\n  - SECRET\n  b: c",
	} {
		_, problems := ReadRecord("examples/1.md", []byte("---\nrecord: example\n"+private+"\n---\n"))
		if len(problems) == 0 {
			t.Errorf("%q: nothing found", private)
		}
		for _, p := range problems {
			if strings.Contains(p.Message+p.Help, secret) {
				t.Errorf("%q: %s: %s (%s)", private, p.Check, p.Message, p.Help)
			}
		}
	}
}

// TestScalarsStayAsWritten: what YAML would take for a number, a date or a
// truth value is text to us.
func TestScalarsStayAsWritten(t *testing.T) {
	for _, written := range []string{"0123", "089", "1974-05-02", "1_000", "2.0", "0x1F", "1e3", "yes", "no", "null", "~", "12:30", ".5", "+1", "-0", "0o17", "1964/..", "H-24", "é"} {
		r, problems := ReadRecord("pages/a.md", []byte("---\nrecord: page\ntitle: "+written+"\n---\n"))
		if len(problems) > 0 {
			t.Errorf("%s: %v", written, list(problems))
			continue
		}
		want := Text{written, At("pages/a.md", 3, 8)}
		if got := r.(*Page).Name; got != want {
			t.Errorf("%s was read as %v", written, got)
		}
	}
}

// TestPlaces holds places against a text with a mark and line ends of Windows,
// characters of several bytes, a block scalar and a comment.
func TestPlaces(t *testing.T) {
	text := "\ufeff---\r\nrecord: maker\r\n# é\r\nname: 'Ünder'\r\nplace: |\r\n  On the\r\n  fell\r\ntrading: {span: 1947/1978, cites: [\"dïr, p. 12\", \"directory-1948\"]}\r\n---\r\n\r\nProse é\r\n"
	r, problems := ReadRecord("makers/m.md", []byte(text))
	at := func(line, column int) Pos { return At("makers/m.md", line, column) }
	if len(problems) != 1 || problems[0].Pos != at(8, 36) {
		t.Fatalf("problems %v", list(problems))
	}
	m := r.(*Maker)
	for _, test := range []struct {
		what       string
		have, want any
	}{
		{"name", m.Name, Text{"Ünder", at(4, 7)}},
		{"place", m.Place, Text{"On the\nfell\n", at(5, 8)}},
		{"trading", m.Trading.Pos, at(8, 10)},
		{"span", m.Trading.Span.Pos, at(8, 17)},
		{"citation", m.Trading.Cites[0], Citation{"directory-1948", "", at(8, 50)}},
		{"body", m.Body, Prose{"\r\nProse é\r\n", at(10, 1)}},
		{"source", string(m.Source), text},
	} {
		if test.have != test.want {
			t.Errorf("%s: %v, want %v", test.what, test.have, test.want)
		}
	}
}

// TestEveryPlaceOfTheDemonstration: at each value's place in its file stands
// the value, or the quote that it begins with.
func TestEveryPlaceOfTheDemonstration(t *testing.T) {
	ref, _, err := Read("../content")
	if err != nil {
		t.Fatal(err)
	}
	w := &placeWalk{t: t, lines: map[string][]string{SettingsFile: strings.Split(string(ref.Settings.Source), "\n")}}
	for _, r := range ref.Records() {
		w.lines[r.Header().File] = strings.Split(string(r.Header().Source), "\n")
	}
	for _, r := range ref.Records() {
		w.walk(reflect.ValueOf(r).Elem())
	}
	w.walk(reflect.ValueOf(ref.Settings))
	if w.seen < 5000 {
		t.Errorf("only %d places seen", w.seen)
	}
}

type placeWalk struct {
	t     *testing.T
	lines map[string][]string
	seen  int
}

func (w *placeWalk) walk(v reflect.Value) {
	switch value := v.Interface().(type) {
	case Head, *Model, *Maker:
		return
	case Text:
		w.holds(value.Pos, value.Value)
		return
	case Citation:
		w.holds(value.Pos, value.Source)
		return
	case Span:
		w.holds(value.Pos, value.String())
		return
	case Range:
		w.holds(value.Pos, value.Written)
		return
	}
	switch v.Kind() {
	case reflect.Struct:
		for i := range v.NumField() {
			f := v.Type().Field(i)
			if f.IsExported() && !slices.Contains([]string{"FirstClaim", "SecondClaim", "OfClaim"}, f.Name) {
				w.walk(v.Field(i))
			}
		}
	case reflect.Pointer:
		if !v.IsNil() {
			w.walk(v.Elem())
		}
	case reflect.Slice:
		if v.Type().Elem().Kind() != reflect.Uint8 {
			for i := range v.Len() {
				w.walk(v.Index(i))
			}
		}
	}
}

func (w *placeWalk) holds(at Pos, value string) {
	if at.IsZero() || strings.HasPrefix(at.File(), RecordingsFolder+"/") { // words of a transcript stand below their time
		return
	}
	w.seen++
	line := []rune(w.lines[at.File()][at.Line()-1])
	rest := strings.TrimLeft(string(line[at.Column()-1:]), "\"'|>-+ ")
	first, _, _ := strings.Cut(value, "\n")
	start := strings.TrimLeft(first, "\"'|>-+ ")
	if head := start[:min(len(start), 12)]; !strings.HasPrefix(rest, head) && strings.TrimSpace(rest) != "" {
		w.t.Errorf("%s: %q does not stand there, but %q", at, value, rest)
	}
}

func TestDemonstrationReadsClean(t *testing.T) {
	ref, problems, err := Read("../content")
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range problems {
		t.Errorf("%s: %s: %s (%s)", p.Pos, p.Check, p.Message, p.Help)
	}
	claims := 0
	for _, m := range ref.Models.All() {
		claims += len(m.Claims())
	}
	for _, m := range ref.Makers.All() {
		claims += len(m.Claims())
	}
	// The least that the demonstration is to hold.
	for _, test := range []struct {
		what       string
		have, want int
	}{
		{"makers", ref.Makers.Len(), 3}, {"models", ref.Models.Len(), 10}, {"features", ref.Features.Len(), 14},
		{"sources", ref.Sources.Len(), 50}, {"claims", claims, 300}, {"examples", ref.Examples.Len(), 40},
	} {
		if test.have < test.want {
			t.Errorf("%d %s, want %d at least", test.have, test.what, test.want)
		}
	}
}

// TestReadingIsTheSameEachTime: records are read several at once.
func TestReadingIsTheSameEachTime(t *testing.T) {
	files := fstest.MapFS{"reference.yaml": {Data: []byte(smallSettings)}}
	for i := range 300 {
		files[fmt.Sprintf("models/m%d.md", i)] = &fstest.MapFile{Data: fmt.Appendf(nil, "---\nrecord: model\nname: M\nmakr: x\nmade: {span: 196, cites: [a%d]}\n---\n", i)}
	}
	first, _, _ := readProblems(t, files)
	for range 5 {
		again, _, _ := readProblems(t, files)
		if diff := cmp.Diff(first, again); diff != "" {
			t.Fatal(diff)
		}
	}
	if !slices.IsSortedFunc(first, Problem.compare) {
		t.Error("the problems are not sorted")
	}
	if len(first) < 900 {
		t.Errorf("%d problems", len(first))
	}
}

func readProblems(t *testing.T, files fstest.MapFS) (Problems, *Reference, error) {
	t.Helper()
	ref, problems, err := ReadFS(files, "x")
	if err != nil {
		t.Fatal(err)
	}
	return problems, ref, err
}

func TestJudgementIsFilledIn(t *testing.T) {
	s, problems := ReadSettings([]byte("name: A\nyears: 1930/1985\njudgement:\n  circa: 0\n  credence: {web: 0.3}\n  looseness: {loose: 0.4}\n"))
	if len(problems) > 0 {
		t.Fatal(list(problems))
	}
	j, d := s.Judgement, DefaultJudgement()
	if j.Circa.Value != 0 || j.Changeover != d.Changeover || j.Temper != d.Temper {
		t.Errorf("judgement %+v", j)
	}
	if j.Credence[Web].Value != 0.3 || j.Credence[Catalogue] != d.Credence[Catalogue] || len(j.Credence) != len(SourceKinds) {
		t.Errorf("credence %v", j.Credence)
	}
	if j.Looseness["loose"].Value != 0.4 || j.Looseness["firm"] != d.Looseness["firm"] {
		t.Errorf("looseness %v", j.Looseness)
	}
}

// TestAssembleAgain: a caller who follows edits reads one record anew and ties
// all of them again.
func TestAssembleAgain(t *testing.T) {
	record := func(file, text string) Record {
		r, problems := ReadRecord(file, []byte(text))
		if len(problems) > 0 {
			t.Fatal(list(problems))
		}
		return r
	}
	maker := record("makers/m.md", "---\nrecord: maker\nname: M\norder: [{first: a/made, how: before, second: b/made}]\n---\n")
	a := record("models/a.md", "---\nrecord: model\nname: A\nmaker: m\nmade: {span: 1950}\n---\n")
	b := record("models/b.md", "---\nrecord: model\nname: B\nmaker: m\nmade: {span: 1960}\n---\n")
	settings, _ := ReadSettings([]byte(smallSettings))
	first, problems := Assemble("x", settings, []Record{b, a, maker}, Media{})
	if len(problems) > 0 {
		t.Fatal(list(problems))
	}
	order := first.Makers.All()[0].Order[0]
	if order.FirstClaim != a.(*Model).Made || order.SecondClaim != b.(*Model).Made {
		t.Error("the order statement is not tied")
	}
	changed := record("models/b.md", "---\nrecord: model\nname: B\nmaker: m\nmade: {span: 1961}\n---\n")
	second, _ := Assemble("x", settings, []Record{a, changed, maker}, Media{})
	if order.SecondClaim != changed.(*Model).Made {
		t.Error("the order statement is tied to the record as it was")
	}
	if m, _ := second.Models.Get("b"); m != changed {
		t.Error("the changed record is not in place")
	}
	if _, problems := Assemble("x", settings, []Record{a, maker}, Media{}); len(problems) != 1 || problems[0].Check != CheckDangling || order.SecondClaim != nil {
		t.Errorf("without the record: %v, tied to %v", list(problems), order.SecondClaim)
	}
}

func TestRecordInNoFolder(t *testing.T) {
	for _, file := range []string{"a.md", "things/a.md", "models/x/a.md", "models/a.txt"} {
		r, problems := ReadRecord(file, nil)
		if r != nil || len(problems) != 1 || problems[0].Check != CheckStrayFile {
			t.Errorf("%s: %v, %v", file, r, list(problems))
		}
	}
}

func TestHorizon(t *testing.T) {
	for written, want := range map[string]edtf.Range{
		"1930/1985": {First: 1930, Last: 1985}, "1947": {First: 1947, Last: 1947}, "nonsense": {First: 1850, Last: 2030},
	} {
		s, _ := ReadSettings([]byte("name: A\nyears: " + written + "\n"))
		if got := (&Reference{Settings: s}).Horizon(); got != want {
			t.Errorf("%s gives %v", written, got)
		}
	}
}
