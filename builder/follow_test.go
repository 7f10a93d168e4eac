package builder

import (
	"bytes"
	"context"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"yearmark/checks"
	"yearmark/site/pages"
	"yearmark/testdata/made"
)

// bench is a folder at which a writer sits.
type bench struct {
	folder string
	n      int // counts what was made
}

// some draws a file of a folder of records.
func (b *bench) some(t *rapid.T, kind string) string {
	entries, err := os.ReadDir(filepath.Join(b.folder, kind))
	if err != nil || len(entries) == 0 {
		return ""
	}
	return kind + "/" + entries[rapid.IntRange(0, len(entries)-1).Draw(t, kind)].Name()
}

// rewrite changes a file's text.
func (b *bench) rewrite(file string, change func(string) string) {
	path := filepath.Join(b.folder, file)
	if data, err := os.ReadFile(path); err == nil {
		_ = os.WriteFile(path, []byte(change(string(data))), 0o644)
	}
}

// put writes a new record.
func (b *bench) put(kind, text string) string {
	b.n++
	file := fmt.Sprintf("%s/new-%d.md", kind, b.n)
	_ = os.WriteFile(filepath.Join(b.folder, file), []byte("---\n"+text+"\n---\n\nNew words.\n"), 0o644)
	return file
}

// id is the identifier of a record's file.
func id(file string) string { return strings.TrimSuffix(filepath.Base(file), ".md") }

// replaced changes the first of a text, or the last words where it is not there.
func replaced(old, with string) func(string) string {
	return func(s string) string {
		if !strings.Contains(s, old) {
			return s + "\n" + with + "\n"
		}
		return strings.Replace(s, old, with, 1)
	}
}

// writing is one thing that a writer does; it gives the files that changed.
type writing struct {
	name string
	do   func(t *rapid.T, b *bench) []string
}

var writings = []writing{
	{"a claim's span", func(t *rapid.T, b *bench) []string {
		file := b.some(t, "models")
		b.rewrite(file, replaced("span: 19", "span: 1942, note: \"19"+"00\", era-was: 19"))
		b.rewrite(file, func(s string) string { return strings.Replace(s, ", era-was: 19", " #", 1) })
		return []string{file}
	}},
	{"a claim gone", func(t *rapid.T, b *bench) []string {
		file := b.some(t, "models")
		b.rewrite(file, func(s string) string {
			lines := strings.Split(s, "\n")
			at := slices.IndexFunc(lines, func(l string) bool { return strings.HasPrefix(l, "  - {") })
			if at >= 0 {
				lines = slices.Delete(lines, at, at+1)
			}
			return strings.Join(lines, "\n")
		})
		return []string{file}
	}},
	{"a claim more", func(t *rapid.T, b *bench) []string {
		file, source := b.some(t, "models"), id(b.some(t, "sources"))
		b.rewrite(file, replaced("\nfeatures:\n", "\nfeatures:\n  - {id: more, feature: riser-wood, value: walnut, span: 1960~/1962, cites: ["+source+"]}\n"))
		return []string{file}
	}},
	{"words", func(t *rapid.T, b *bench) []string {
		file := b.some(t, rapid.SampledFrom([]string{"makers", "models", "features", "sources", "examples", "pages"}).Draw(t, "kind"))
		b.n++
		b.rewrite(file, func(s string) string { return s + fmt.Sprintf("\nSaid on day %d.\n", b.n) })
		return []string{file}
	}},
	{"a name", func(t *rapid.T, b *bench) []string {
		file := b.some(t, rapid.SampledFrom([]string{"makers", "models", "features", "sources"}).Draw(t, "kind"))
		b.rewrite(file, replaced("\nname: ", "\nname: Renamed "))
		return []string{file}
	}},
	{"a source's kind", func(t *rapid.T, b *bench) []string {
		file, other := b.some(t, "sources"), id(b.some(t, "sources"))
		b.rewrite(file, replaced("\nkind: ", "\nrelies-on: ["+other+"]\nkind: recollection #"))
		return []string{file}
	}},
	{"how strictly a feature was held", func(t *rapid.T, b *bench) []string {
		file := b.some(t, "features")
		b.rewrite(file, replaced("\nheld: ", "\nheld: loose #"))
		return []string{file}
	}},
	{"a record moved", func(t *rapid.T, b *bench) []string {
		file := b.some(t, rapid.SampledFrom([]string{"models", "sources", "examples"}).Draw(t, "kind"))
		b.n++
		to := fmt.Sprintf("%s/moved-%d.md", filepath.Dir(file), b.n)
		_ = os.Rename(filepath.Join(b.folder, file), filepath.Join(b.folder, to))
		return []string{file, to}
	}},
	{"a record gone", func(t *rapid.T, b *bench) []string {
		file := b.some(t, rapid.SampledFrom([]string{"makers", "models", "features", "sources", "examples", "pages"}).Draw(t, "kind"))
		_ = os.Remove(filepath.Join(b.folder, file))
		return []string{file}
	}},
	{"new records", func(t *rapid.T, b *bench) []string {
		maker, source := id(b.some(t, "makers")), id(b.some(t, "sources"))
		s := b.put("sources", "record: source\nname: A new list\nkind: price-list\nissued: 1961")
		f := b.put("features", "record: feature\nname: A new mark\nask: Is it there?\nkind: presence")
		m := b.put("models", "record: model\nname: A new model\nmaker: "+maker+"\nmade: {span: 1958/1966, cites: ["+source+"]}\nfeatures:\n  - {feature: "+id(f)+", value: present, span: 1960, cites: ["+id(s)+"]}")
		e := b.put("examples", "record: example\nmodel: "+id(m)+"\nobserved:\n  - {feature: "+id(f)+", value: present}\ndocumented: {span: 1960, cites: ["+id(s)+"]}")
		return []string{s, f, m, e}
	}},
	{"a record broken and mended", func(t *rapid.T, b *bench) []string {
		file := b.some(t, "models")
		b.rewrite(file, func(s string) string {
			if rest, broken := strings.CutPrefix(s, "broken"); broken {
				return rest
			}
			return "broken" + s
		})
		return []string{file}
	}},
	{"the settings", func(t *rapid.T, b *bench) []string {
		text := rapid.SampledFrom([]string{"judgement: {circa: 3}", "judgement: {temper: 0.5, credence: {web: 0.9}}", "judgement: {looseness: {usual: 0.1}}", "editor: Somebody"}).Draw(t, "settings")
		b.rewrite("reference.yaml", func(s string) string {
			lines := slices.DeleteFunc(strings.Split(strings.TrimSpace(s), "\n"), func(l string) bool {
				return strings.HasPrefix(l, "judgement") || strings.HasPrefix(l, "editor")
			})
			return strings.Join(append(lines, text), "\n") + "\n"
		})
		return []string{"reference.yaml"}
	}},
	{"a picture", func(t *rapid.T, b *bench) []string {
		file := fmt.Sprintf("pictures/drawn-%d.svg", rapid.IntRange(1, 2).Draw(t, "picture"))
		b.n++
		text := fmt.Sprintf(`<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 9 9"><path d="M0 0h%d"/></svg>`, b.n%10)
		_ = os.MkdirAll(filepath.Join(b.folder, "pictures"), 0o755)
		_ = os.WriteFile(filepath.Join(b.folder, file), []byte(text), 0o644)
		return []string{file}
	}},
}

// sameSite wants every file of the followed site to be that of the folder
// opened anew: what a publish would write.
func sameSite(t *rapid.T, f *Followed, images *pages.ImageCache, after string) {
	fresh, err := Open(t.Context(), f.path)
	if err != nil {
		t.Fatal(err)
	}
	want, err := fresh.Site(t.Context(), nil)
	if err != nil {
		t.Fatal(err)
	}
	got, err := f.Study().Site(t.Context(), images)
	if err != nil {
		t.Fatal(err)
	}
	if !slices.Equal(got.Paths(), want.Paths()) {
		t.Fatalf("after %s the paths are %q, of a fresh site %q", after, only(got.Paths(), want.Paths()), only(want.Paths(), got.Paths()))
	}
	for _, path := range want.Paths() {
		a, errA := got.Render(path)
		b, errB := want.Render(path)
		if !bytes.Equal(a, b) || (errA == nil) != (errB == nil) {
			t.Fatalf("after %s %s differs: %v, %v\n%s", after, path, errA, errB, difference(a, b))
		}
	}
	if a, b := reportOf(t, f.Study()).Summary(), reportOf(t, fresh).Summary(); a != b {
		t.Fatalf("after %s it is found that %s; of a fresh site that %s", after, a, b)
	}
}

// only gives what the first list has and the second has not.
func only(a, b []string) []string {
	return slices.DeleteFunc(slices.Clone(a), func(s string) bool { return slices.Contains(b, s) })
}

// difference shows where two files part.
func difference(a, b []byte) string {
	at := 0
	for at < min(len(a), len(b)) && a[at] == b[at] {
		at++
	}
	from := max(0, at-120)
	return fmt.Sprintf("at byte %d:\n…%s\n…%s", at, a[from:min(len(a), at+120)], b[from:min(len(b), at+120)])
}

// TestAFollowedSiteIsAFreshOne makes edits in a row, as drawn, and after each
// holds the site of the followed folder against one of the folder opened anew.
func TestAFollowedSiteIsAFreshOne(t *testing.T) {
	few(t, "4")
	base := t.TempDir()
	if err := made.Write(base, made.Options{Pages: made.Least, Seed: 3}); err != nil {
		t.Fatal(err)
	}
	rapid.Check(t, func(t *rapid.T) {
		folder, err := os.MkdirTemp("", "followed")
		if err != nil {
			t.Fatal(err)
		}
		defer os.RemoveAll(folder)
		if err := os.CopyFS(folder, os.DirFS(base)); err != nil {
			t.Fatal(err)
		}
		f, err := Follow(t.Context(), folder)
		if err != nil {
			t.Fatal(err)
		}
		b, images := &bench{folder: folder}, &pages.ImageCache{}
		for range rapid.IntRange(3, 12).Draw(t, "edits") {
			w := rapid.SampledFrom(writings).Draw(t, "writing")
			files := w.do(t, b)
			if rapid.IntRange(0, 4).Draw(t, "untold") == 0 {
				files = nil
			}
			if _, err := f.Renew(t.Context(), files, nil); err != nil {
				t.Fatal(err)
			}
			sameSite(t, f, images, w.name+" "+strings.Join(files, " "))
		}
	})
}

// few sets how many runs rapid makes, unless the command says.
func few(t *testing.T, checks string) {
	f := flag.Lookup("rapid.checks")
	if was := f.Value.String(); was == f.DefValue {
		_ = f.Value.Set(checks)
		t.Cleanup(func() { _ = f.Value.Set(was) })
	}
}

func reportOf(t interface {
	Helper()
	Fatal(...any)
}, s *Study) checks.Report {
	t.Helper()
	report, err := s.Report(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	return report
}
