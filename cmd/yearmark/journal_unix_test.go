//go:build unix

package main

import (
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"
)

const bow = `{"yearmark":"submission","version":1,"reference":"Our register of old bows","edition":"x","on":"2024-05-02","model":"wren",
"observed":[{"feature":"makers-mark","values":["round"],"sure":"sure"}]}`

// TestSixAtOnce files one submission by six commands at once: one files it, the
// others say that it was filed before.
func TestSixAtOnce(t *testing.T) {
	a := newApart(t)
	folder, file := filepath.Join(a.root, "r"), filepath.Join(a.root, "bow.json")
	said("begin", folder)
	if err := os.WriteFile(file, []byte(bow), 0o644); err != nil {
		t.Fatal(err)
	}
	var all sync.WaitGroup
	answers := make([]string, 6)
	for i := range answers {
		all.Go(func() {
			out, err := a.command("receive", file, "--in", folder).Output()
			if err != nil {
				t.Errorf("%v", err)
			}
			answers[i] = string(out)
		})
	}
	all.Wait()
	text := strings.Join(answers, "")
	if strings.Count(text, ": filed as examples/0002.md\n") != 1 || strings.Count(text, ": filed before, as examples/0002.md\n") != 5 {
		t.Errorf("%q", answers)
	}
	if list, err := filepath.Glob(filepath.Join(folder, "examples", "*")); err != nil || len(list) != 2 {
		t.Errorf("%v, %v", list, err)
	}
}

// TestBeginLeavesNothingOnAFullDisk starves begin at several sizes of file: it
// leaves neither a file nor a folder, also none above the one that was named.
func TestBeginLeavesNothingOnAFullDisk(t *testing.T) {
	a := newApart(t)
	stopped := 0
	for _, blocks := range []string{"0", "1", "2", "8"} { // of 512 or 1024 bytes
		cmd := a.command("begin", filepath.Join(a.root, "clubs", "ours", "register"))
		limited := exec.Command("sh", append([]string{"-c", `trap '' XFSZ; ulimit -f ` + blocks + `; exec "$@"`, "sh", cmd.Path}, cmd.Args[1:]...)...)
		limited.Env = cmd.Env
		out, err := limited.CombinedOutput()
		if err == nil {
			continue
		}
		stopped++
		if !strings.Contains(string(out), "cannot write") {
			t.Errorf("%s: %s", blocks, out)
		}
		if _, err := os.Stat(filepath.Join(a.root, "clubs")); err == nil {
			t.Errorf("%s blocks: something is left", blocks)
		}
		_ = os.RemoveAll(filepath.Join(a.root, "clubs"))
	}
	if stopped < 3 {
		t.Errorf("stopped %d times", stopped)
	}
}

// TestAWriterOnAFullDiskWritesNothing starves import: the records stay as they
// were, and with room again it succeeds.
func TestAWriterOnAFullDiskWritesNothing(t *testing.T) {
	a := newApart(t)
	folder, table := filepath.Join(a.root, "r"), filepath.Join(a.root, "sources.csv")
	said("begin", folder)
	long := strings.Repeat("shelf ", 2000)
	if err := os.WriteFile(table, []byte("source,kept\nbecksmith-list-1952,Box 8\nbecksmith-list-1957,"+long+"\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	records := func() []string {
		var all []string
		list, err := filepath.Glob(filepath.Join(folder, "*", "*.md"))
		if err != nil {
			t.Fatal(err)
		}
		for _, path := range list {
			data, err := os.ReadFile(path)
			if err != nil {
				t.Fatal(err)
			}
			all = append(all, path, string(data))
		}
		return all
	}
	was := records()
	cmd := a.command("import", table, "--in", folder, "--write")
	limited := exec.Command("sh", append([]string{"-c", `trap '' XFSZ; ulimit -f 4; exec "$@"`, "sh", cmd.Path}, cmd.Args[1:]...)...)
	limited.Env = cmd.Env
	if out, err := limited.CombinedOutput(); err == nil || !strings.Contains(string(out), "nothing was written: ") {
		t.Errorf("%v: %s", err, out)
	}
	if !slices.Equal(was, records()) {
		t.Error("the records have changed")
	}
	if out, err := a.command("import", table, "--in", folder, "--write").CombinedOutput(); err != nil || slices.Equal(was, records()) {
		t.Errorf("%v: %s", err, out)
	}
	if litter, err := filepath.Glob(filepath.Join(folder, ".yearmark", "staged", "*")); err != nil || len(litter) > 0 {
		t.Errorf("left: %v", litter)
	}
}
