package output

import (
	"bufio"
	"context"
	"errors"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

const (
	childTarget  = "YEARMARK_OUTPUT_TARGET"
	childEdition = "YEARMARK_OUTPUT_EDITION"
	filesInSite  = 60
)

// TestMain lets the test binary stand for a publish that can be killed.
func TestMain(m *testing.M) {
	if target := os.Getenv(childTarget); target != "" {
		fmt.Println("started")
		if err := Replace(context.Background(), target, Mark{}, fillWith(os.Getenv(childEdition), time.Millisecond/4)); err != nil {
			fmt.Fprintln(os.Stderr, err)
			os.Exit(1)
		}
		os.Exit(0)
	}
	os.Exit(m.Run())
}

// fillWith writes a site whose every file carries the edition.
func fillWith(edition string, pause time.Duration) func(*Writer) error {
	return func(w *Writer) error {
		for i := range filesInSite {
			if err := w.Put(fmt.Sprintf("models/m%02d.html", i), []byte(strings.Repeat(edition+"\n", 200))); err != nil {
				return err
			}
			time.Sleep(pause)
		}
		return nil
	}
}

// editionOf fails unless the site is whole, and gives the edition of all its files.
func editionOf(t *testing.T, target string) string {
	t.Helper()
	found := ""
	for i := range filesInSite {
		data, err := os.ReadFile(filepath.Join(target, fmt.Sprintf("models/m%02d.html", i)))
		if err != nil {
			t.Fatalf("the site is not whole: %v", err)
		}
		lines := strings.Split(strings.TrimSuffix(string(data), "\n"), "\n")
		if len(lines) != 200 || found != "" && lines[0] != found {
			t.Fatalf("file %d is cut short or of another edition: %d lines, %q after %q", i, len(lines), lines[0], found)
		}
		found = lines[0]
	}
	return found
}

func mustReplace(t *testing.T, target, edition string) {
	t.Helper()
	if err := Replace(context.Background(), target, Mark{Edition: edition}, fillWith(edition, 0)); err != nil {
		t.Fatal(err)
	}
}

func neighbours(t *testing.T, target string) []string {
	t.Helper()
	entries, err := os.ReadDir(filepath.Dir(target))
	if err != nil {
		t.Fatal(err)
	}
	var names []string
	for _, e := range entries {
		names = append(names, e.Name())
	}
	return names
}

func TestReplaceSwapsWholeEditions(t *testing.T) {
	target := filepath.Join(t.TempDir(), "site")
	mustReplace(t, target, "first")
	mustReplace(t, target, "second")
	if got := editionOf(t, target); got != "second" {
		t.Errorf("edition %q in place, want second", got)
	}
	if left := neighbours(t, target); len(left) != 1 {
		t.Errorf("left beside the site: %v", left)
	}
}

func TestReplaceKeepsTheOldSiteWhenFillingFails(t *testing.T) {
	target := filepath.Join(t.TempDir(), "site")
	mustReplace(t, target, "first")
	broken := errors.New("broken")
	err := Replace(context.Background(), target, Mark{}, func(w *Writer) error {
		if err := w.Put("models/m00.html", []byte("half")); err != nil {
			return err
		}
		return broken
	})
	if !errors.Is(err, broken) {
		t.Fatalf("got %v, want the filling's own error", err)
	}
	if got := editionOf(t, target); got != "first" {
		t.Errorf("edition %q in place, want first", got)
	}
	if left := neighbours(t, target); len(left) != 1 {
		t.Errorf("left beside the site: %v", left)
	}
}

func TestReplaceTouchesNothingThatIsNotItsOwn(t *testing.T) {
	folder := t.TempDir()
	file := filepath.Join(folder, "letters.txt")
	if err := os.WriteFile(file, []byte("mine"), 0o644); err != nil {
		t.Fatal(err)
	}
	for _, target := range []string{folder, file} {
		if err := Replace(context.Background(), target, Mark{}, fillWith("new", 0)); err == nil {
			t.Errorf("%s was replaced", target)
		}
	}
	if data, err := os.ReadFile(file); err != nil || string(data) != "mine" {
		t.Errorf("the file is %q, %v", data, err)
	}
}

func TestPutRefusesPathsOutsideTheSite(t *testing.T) {
	for _, path := range []string{"../x", "/x", "a/../../x", "", `a\..\..\x`} {
		err := Replace(context.Background(), filepath.Join(t.TempDir(), "site"), Mark{}, func(w *Writer) error { return w.Put(path, nil) })
		if err == nil {
			t.Errorf("%q was written", path)
		}
	}
}

func TestTwoPublishesAtOnceDoNotMix(t *testing.T) {
	target := filepath.Join(t.TempDir(), "site")
	err := Replace(context.Background(), target, Mark{}, func(w *Writer) error {
		if err := Replace(context.Background(), target, Mark{}, fillWith("second", 0)); !errors.Is(err, ErrBusy) {
			return fmt.Errorf("the second publish got %v, want ErrBusy", err)
		}
		return fillWith("first", 0)(w)
	})
	if err != nil {
		t.Fatal(err)
	}
}

// TestKilledPublishLeavesTheOldSite kills a publish at random moments of its
// run: the old or the new site is whole every time, and the next one succeeds.
func TestKilledPublishLeavesTheOldSite(t *testing.T) {
	target := filepath.Join(t.TempDir(), "site")
	mustReplace(t, target, "edition-0")
	random := rand.New(rand.NewPCG(1, 2))
	for i := 1; i <= 40; i++ {
		killAfter(t, target, fmt.Sprintf("edition-%d", i), time.Duration(random.IntN(30))*time.Millisecond)
		editionOf(t, target)
	}
	mustReplace(t, target, "last")
	if got := editionOf(t, target); got != "last" {
		t.Errorf("edition %q in place, want last", got)
	}
	if left := neighbours(t, target); len(left) != 1 {
		t.Errorf("left beside the site: %v", left)
	}
}

func killAfter(t *testing.T, target, edition string, wait time.Duration) {
	t.Helper()
	child := exec.Command(os.Args[0])
	child.Env = append(os.Environ(), childTarget+"="+target, childEdition+"="+edition)
	out, err := child.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := child.Start(); err != nil {
		t.Fatal(err)
	}
	if _, err := bufio.NewReader(out).ReadString('\n'); err != nil {
		t.Fatalf("the publish did not start: %v", err)
	}
	time.Sleep(wait)
	_ = child.Process.Kill()
	_ = child.Wait()
}

func TestUnchangedFilesAreLinked(t *testing.T) {
	target := filepath.Join(t.TempDir(), "site")
	mustReplace(t, target, "same")
	before, err := os.Stat(filepath.Join(target, "models/m00.html"))
	if err != nil {
		t.Fatal(err)
	}
	mustReplace(t, target, "same")
	after, err := os.Stat(filepath.Join(target, "models/m00.html"))
	if err != nil {
		t.Fatal(err)
	}
	if !os.SameFile(before, after) {
		t.Error("an unchanged file was written again")
	}
}
