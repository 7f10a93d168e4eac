package output

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"
)

// put writes a file, with the folders that it lies in.
func put(t *testing.T, file, text string, mode fs.FileMode) {
	t.Helper()
	if err := os.MkdirAll(filepath.Dir(file), 0o755); err != nil {
		t.Fatal(err)
	}
	if err := errors.Join(os.WriteFile(file, []byte(text), mode), os.Chmod(file, mode)); err != nil {
		t.Fatal(err)
	}
}

// listed is every path below a folder with its kind, mode, bytes and, of what
// is not a folder of ours, its time.
func listed(t *testing.T, folder string, skip func(path string) bool) []string {
	t.Helper()
	var list []string
	err := filepath.WalkDir(folder, func(path string, e fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		below, _ := filepath.Rel(folder, path)
		if below == "." || skip != nil && skip(below) {
			return nil
		}
		info, err := e.Info()
		if err != nil {
			return err
		}
		line := fmt.Sprintf("%s %v %d", below, info.Mode(), info.ModTime().UnixNano())
		if info.Mode().IsRegular() {
			data, err := os.ReadFile(path)
			if err != nil {
				return err
			}
			line += " " + string(data)
		} else if e.Type() == fs.ModeSymlink {
			to, _ := os.Readlink(path)
			line += " -> " + to
		}
		list = append(list, line)
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	return list
}

// oursInTest are the paths that fillWith writes.
func oursInTest(path string) bool {
	return path == MarkFile || path == "models" || strings.HasPrefix(path, "models"+string(filepath.Separator)+"m")
}

func same(t *testing.T, before, after []string) {
	t.Helper()
	if !slices.Equal(before, after) {
		t.Errorf("before:\n%s\nafter:\n%s", strings.Join(before, "\n"), strings.Join(after, "\n"))
	}
}

// strangers puts things of every kind that can be kept into a site.
func strangers(t *testing.T, site string) {
	t.Helper()
	put(t, filepath.Join(site, ".git", "objects", "ab", "cd"), "blob", 0o444)
	put(t, filepath.Join(site, ".git", "HEAD"), "ref: refs/heads/main\n", 0o644)
	put(t, filepath.Join(site, "CNAME"), "bows.example.org\n", 0o640)
	put(t, filepath.Join(site, ".well-known", "security.txt"), "Contact: …", 0o644)
	put(t, filepath.Join(site, "models", ".htaccess"), "Options -Indexes", 0o600)
	put(t, filepath.Join(site, "run.sh"), "#!/bin/sh", 0o755)
	for link, to := range map[string]string{"latest": "models", "nowhere": "/there/is/none"} {
		if err := os.Symlink(to, filepath.Join(site, link)); err != nil {
			t.Fatal(err)
		}
	}
	if err := os.Mkdir(filepath.Join(site, "empty"), 0o700); err != nil {
		t.Fatal(err)
	}
	old := time.Date(2001, 2, 3, 4, 5, 6, 7000, time.UTC)
	for _, name := range []string{".git/objects/ab/cd", "CNAME", ".git/objects", "empty"} {
		if err := os.Chtimes(filepath.Join(site, filepath.FromSlash(name)), old, old); err != nil {
			t.Fatal(err)
		}
	}
}

func TestWhatAPersonPutIntoTheSiteStays(t *testing.T) {
	target := filepath.Join(t.TempDir(), "site")
	mustReplace(t, target, "first")
	strangers(t, target)
	before := listed(t, target, oursInTest)
	for _, edition := range []string{"second", "third"} {
		mustReplace(t, target, edition)
		if got := editionOf(t, target); got != edition {
			t.Errorf("edition %q in place, want %s", got, edition)
		}
		same(t, before, listed(t, target, oursInTest))
	}
	if left := neighbours(t, target); len(left) != 1 {
		t.Errorf("left beside the site: %v", left)
	}
}

// TestCopiesAreAsTheOriginals copies as on a disk that knows no links.
func TestCopiesAreAsTheOriginals(t *testing.T) {
	from, to := t.TempDir(), t.TempDir()
	put(t, filepath.Join(from, "a"), "text", 0o640)
	old := time.Date(2001, 2, 3, 4, 5, 6, 7000, time.UTC)
	if err := os.Chtimes(filepath.Join(from, "a"), old, old); err != nil {
		t.Fatal(err)
	}
	info, err := os.Lstat(filepath.Join(from, "a"))
	if err == nil {
		err = copyFile(t.Context(), filepath.Join(from, "a"), filepath.Join(to, "a"), info)
	}
	if err != nil {
		t.Fatal(err)
	}
	same(t, listed(t, from, nil), listed(t, to, nil))
	ended, cancel := context.WithCancel(t.Context())
	cancel()
	if err := copyFile(ended, filepath.Join(from, "a"), filepath.Join(to, "b"), info); !errors.Is(err, context.Canceled) {
		t.Errorf("a copy after the end: %v", err)
	}
}

// TestWhatIsWrittenNoMoreGoes: of two files that the new site lacks, ours goes,
// though it was edited, and a person's stays.
func TestWhatIsWrittenNoMoreGoes(t *testing.T) {
	target := filepath.Join(t.TempDir(), "site")
	more := func(w *Writer) error {
		return errors.Join(fillWith("first", 0)(w), w.Put("pages/rules.html", []byte("rules")))
	}
	if err := Replace(t.Context(), target, Mark{}, more); err != nil {
		t.Fatal(err)
	}
	put(t, filepath.Join(target, "pages", "rules.html"), "edited", 0o644)
	mustReplace(t, target, "second")
	if _, err := os.Lstat(filepath.Join(target, "pages")); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("what was written before and is no more: %v", err)
	}
	if err := Replace(t.Context(), target, Mark{}, more); err != nil {
		t.Fatal(err)
	}
	put(t, filepath.Join(target, "pages", "mine.html"), "mine", 0o644)
	mustReplace(t, target, "third")
	got := listed(t, filepath.Join(target, "pages"), nil)
	if len(got) != 1 || !strings.HasSuffix(got[0], " mine") {
		t.Errorf("of the two pages there are %v", got)
	}
}

// TestAPersonsFileInTheWayIsNamed publishes files to paths at which, or above
// or below which, a person's things stand.
func TestAPersonsFileInTheWayIsNamed(t *testing.T) {
	for _, c := range []struct{ mine, ours string }{
		{"feed.xml", "feed.xml"}, {"essays", "essays/one.html"}, {"essays/one.html/notes.txt", "essays/one.html"},
	} {
		target := filepath.Join(t.TempDir(), "site")
		mustReplace(t, target, "first")
		put(t, filepath.Join(target, filepath.FromSlash(c.mine)), "mine", 0o644)
		before := listed(t, target, nil)
		err := Replace(t.Context(), target, Mark{}, func(w *Writer) error {
			return errors.Join(fillWith("second", 0)(w), w.Put(c.ours, []byte("ours")))
		})
		place := filepath.Join(target, filepath.FromSlash(c.mine))
		if err == nil || !strings.Contains(err.Error(), "move it or give it another name") || !(strings.Contains(err.Error(), place) || strings.HasPrefix(place, strings.Fields(err.Error())[0])) {
			t.Errorf("%s against %s: %v", c.ours, c.mine, err)
		}
		same(t, before, listed(t, target, nil))
	}
}

// TestASiteOfBefore has a mark that lists no files: what a site of then could
// hold is ours, and nothing else.
func TestASiteOfBefore(t *testing.T) {
	target := filepath.Join(t.TempDir(), "site")
	put(t, filepath.Join(target, MarkFile), `{"writtenBy":"yearmark","name":"R","edition":"","hash":"x"}`, 0o644)
	for _, ours := range []string{"index.html", "census.html", "models/m00.html", "models/gone.html", "assets/js-1/a/b.js", "data/search/x", "pictures/a/b.svg", "feed.atom"} {
		put(t, filepath.Join(target, filepath.FromSlash(ours)), "old", 0o644)
	}
	mine := []string{"404.html", "CNAME", ".git/HEAD", "models/.htaccess", "models/list.pdf", "models/own/a.html", "robots.txt", ".well-known/x"}
	for _, name := range mine {
		put(t, filepath.Join(target, filepath.FromSlash(name)), "mine", 0o644)
	}
	mustReplace(t, target, "new")
	editionOf(t, target)
	var kept []string
	for _, line := range listed(t, target, oursInTest) {
		if name, _, _ := strings.Cut(line, " "); strings.HasSuffix(line, " mine") {
			kept = append(kept, filepath.ToSlash(name))
		} else if strings.HasSuffix(line, " old") {
			t.Errorf("still there: %s", line)
		}
	}
	if slices.Sort(mine); !slices.Equal(kept, mine) {
		t.Errorf("kept %v, want %v", kept, mine)
	}
}

func TestAMarkThatReachesOutIsRefused(t *testing.T) {
	for _, name := range []string{"../letters.txt", "/etc/passwd", "a/../../b", `..\x`, "a//b", "./a", ""} {
		folder := t.TempDir()
		target := filepath.Join(folder, "site")
		put(t, filepath.Join(folder, "letters.txt"), "mine", 0o644)
		data, _ := json.Marshal(Mark{WrittenBy: "yearmark", Files: []string{name}})
		put(t, filepath.Join(target, MarkFile), string(data), 0o644)
		before := listed(t, folder, nil)
		err := Replace(t.Context(), target, Mark{}, fillWith("new", 0))
		if err == nil || !strings.Contains(err.Error(), MarkFile) || !strings.Contains(err.Error(), "delete that name") {
			t.Errorf("%q: %v", name, err)
		}
		same(t, before, listed(t, folder, nil))
	}
}

// TestALinkInAFolderOfOursLeadsNowhere puts a link to a person's folder in the
// place of one that the mark lists files of.
func TestALinkInAFolderOfOursLeadsNowhere(t *testing.T) {
	folder := t.TempDir()
	target, letters := filepath.Join(folder, "site"), filepath.Join(folder, "letters")
	mustReplace(t, target, "first")
	put(t, filepath.Join(letters, "m00.html"), "mine", 0o644)
	if err := errors.Join(os.RemoveAll(filepath.Join(target, "models")), os.Symlink(letters, filepath.Join(target, "models"))); err != nil {
		t.Fatal(err)
	}
	err := Replace(t.Context(), target, Mark{}, fillWith("second", 0))
	if err == nil || !strings.Contains(err.Error(), filepath.Join(target, "models")+" stands where the site needs") {
		t.Errorf("got %v", err)
	}
	if data, err := os.ReadFile(filepath.Join(letters, "m00.html")); err != nil || string(data) != "mine" {
		t.Errorf("the letter is %q, %v", data, err)
	}
}

// TestWhatChangesBeforeTheExchangeIsSeen adds, changes, replaces and removes a
// person's things while the site is written and while they are carried over.
func TestWhatChangesBeforeTheExchangeIsSeen(t *testing.T) {
	target := filepath.Join(t.TempDir(), "site")
	mustReplace(t, target, "first")
	strangers(t, target)
	c := &carrier{from: target, to: filepath.Join(t.TempDir(), "new"), brought: map[string]fs.FileInfo{}}
	m, _, err := readMark(target)
	if err != nil {
		t.Fatal(err)
	}
	c.old = writtenBy(m)
	if err := c.bring(t.Context()); err != nil {
		t.Fatal(err)
	}
	same(t, listed(t, target, oursInTest), listed(t, c.to, oursInTest))
	put(t, filepath.Join(target, "CNAME.new"), "other.example.org\n", 0o644)
	err = errors.Join(
		os.Rename(filepath.Join(target, "CNAME.new"), filepath.Join(target, "CNAME")), // as editors save
		os.RemoveAll(filepath.Join(target, ".well-known")),
		os.Remove(filepath.Join(target, "latest")), os.Mkdir(filepath.Join(target, "latest"), 0o750),
		os.Chmod(filepath.Join(target, "empty"), 0o755),
	)
	if err != nil {
		t.Fatal(err)
	}
	put(t, filepath.Join(target, ".git", "index"), "late", 0o644)
	put(t, filepath.Join(target, "run.sh"), "#!/bin/sh\necho late", 0o700)
	if err := c.bring(t.Context()); err != nil {
		t.Fatal(err)
	}
	same(t, listed(t, target, oursInTest), listed(t, c.to, oursInTest))
}

// TestKilledWithManyStrangers kills publishes at random moments over a site
// that holds three thousand files of a person's: they are all there each time,
// beside one whole edition.
func TestKilledWithManyStrangers(t *testing.T) {
	target := filepath.Join(t.TempDir(), "site")
	mustReplace(t, target, "edition-0")
	for i := range 3000 {
		put(t, filepath.Join(target, ".git", "objects", fmt.Sprintf("%02x", i%64), fmt.Sprint(i)), fmt.Sprint("blob ", i), 0o444)
	}
	put(t, filepath.Join(target, "CNAME"), "bows.example.org\n", 0o644)
	before := listed(t, target, oursInTest)
	random := rand.New(rand.NewPCG(5, 6))
	for i := 1; i <= 40; i++ {
		killAfter(t, target, fmt.Sprintf("edition-%d", i), time.Duration(random.IntN(250))*time.Millisecond)
		editionOf(t, target)
		same(t, before, listed(t, target, oursInTest))
		if t.Failed() {
			t.FailNow()
		}
	}
	mustReplace(t, target, "last")
	same(t, before, listed(t, target, oursInTest))
	if left := neighbours(t, target); len(left) != 1 {
		t.Errorf("left beside the site: %v", left)
	}
}

func TestTheMarkListsTheSameWhateverTheOrder(t *testing.T) {
	var marks [][]byte
	for _, names := range [][]string{{"b.html", "a/b.html", "a.html"}, {"a.html", "b.html", "a/b.html"}} {
		target := filepath.Join(t.TempDir(), "site")
		err := Replace(t.Context(), target, Mark{Name: "R"}, func(w *Writer) error {
			for _, name := range names {
				if err := w.Put(name, nil); err != nil {
					return err
				}
			}
			return nil
		})
		data, errRead := os.ReadFile(filepath.Join(target, MarkFile))
		if err := errors.Join(err, errRead); err != nil {
			t.Fatal(err)
		}
		marks = append(marks, data)
	}
	if !bytes.Equal(marks[0], marks[1]) || !strings.Contains(string(marks[0]), `"a/b.html"`) {
		t.Errorf("%s\n%s", marks[0], marks[1])
	}
}

// TestAMountPointIsFilledInPlace moves a site out of a folder within its
// target, as where no rename can replace it; a publish that was stopped in the
// middle is taken back by the next.
func TestAMountPointIsFilledInPlace(t *testing.T) {
	target := t.TempDir()
	fill := func(edition string) error {
		s, err := openScratch(filepath.Join(target, mountScratch))
		if err != nil {
			return err
		}
		return errors.Join(recoverTarget(s, target), fillMount(t.Context(), s, target, Mark{}, fillWith(edition, 0)), s.close())
	}
	if err := os.Mkdir(filepath.Join(target, lostAndFound), 0o700); err != nil {
		t.Fatal(err)
	}
	if err := fill("first"); err != nil {
		t.Fatal(err)
	}
	editionOf(t, target)
	entries, err := os.ReadDir(target)
	if err != nil || len(entries) != 3 { // the mark, models, lost+found
		t.Errorf("%v, %v", entries, err)
	}
	if err := mayFill(target, entries, true); err == nil || !strings.Contains(err.Error(), "name a folder within it") {
		t.Errorf("a full mount point: %v", err)
	}
	// As if it had been killed before the last file was moved.
	if err := errors.Join(os.Mkdir(filepath.Join(target, mountScratch), 0o755), os.Remove(filepath.Join(target, "models", "m59.html"))); err != nil {
		t.Fatal(err)
	}
	if entries, err = os.ReadDir(target); err != nil || mayFill(target, entries, true) != nil {
		t.Errorf("an unfinished mount point: %v, %v", err, mayFill(target, entries, true))
	}
	if err := fill("second"); err != nil {
		t.Fatal(err)
	}
	if got := editionOf(t, target); got != "second" {
		t.Errorf("edition %q in place, want second", got)
	}
}
