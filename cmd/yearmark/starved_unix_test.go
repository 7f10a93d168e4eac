//go:build unix

package main

import (
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"testing"

	"yearmark/testdata/need"
)

// TestFullDisk publishes to a disk that fills up at many points of the run:
// the old site stays whole, the reason is said, nothing is left behind, and
// with room again the next publish succeeds. Two ways of filling it: a limit
// on the size of files, which every system keeps, and a small disk of its own,
// which only a machine's owner may make.
func TestFullDisk(t *testing.T) {
	need.Long(t)
	a := newApart(t)
	first, second := twoStates(t, a.root)
	a.mustPublish(first, a.site)
	old := state(t, a.site)
	stopped := 0
	for _, blocks := range []string{"0", "1", "4", "16", "64"} { // of 512 or 1024 bytes
		cmd := a.command("publish", second, "--to", a.site)
		limited := exec.Command("sh", append([]string{"-c", `trap '' XFSZ; ulimit -f ` + blocks + `; exec "$@"`, "sh", cmd.Path}, cmd.Args[1:]...)...)
		limited.Env = cmd.Env
		out, err := limited.CombinedOutput()
		if err == nil {
			continue // no file was that large
		}
		stopped++
		if !strings.Contains(string(out), "cannot write") || strings.Contains(string(out), "panic") {
			t.Errorf("limit %s: %s", blocks, out)
		}
		if state(t, a.site) != old {
			t.Fatalf("limit %s: the old site is not whole", blocks)
		}
		a.clean("site")
	}
	if stopped < 3 {
		t.Errorf("only %d limits stopped the publish", stopped)
	}
	a.mustPublish(second, a.site)
	t.Run("small disk", func(t *testing.T) { smallDisk(t, a, first, second) })
}

func smallDisk(t *testing.T, a *apart, first, second string) {
	disk := filepath.Join(a.root, "disk")
	if err := os.Mkdir(disk, 0o755); err != nil {
		t.Fatal(err)
	}
	if out, err := exec.Command("mount", "-t", "tmpfs", "-o", "size=64m", "none", disk).CombinedOutput(); err != nil {
		// The limit on files above has already shown the same; a machine that
		// may not mount shows no more.
		t.Logf("no disk can be mounted here: %s", out)
		return
	}
	defer func() { _ = exec.Command("umount", disk).Run() }()
	site := filepath.Join(disk, "site")
	a.mustPublish(first, site)
	old := state(t, site)
	ballast := filepath.Join(disk, "ballast")
	for _, room := range []int64{0, 4 << 10, 16 << 10, 64 << 10, 128 << 10} {
		fill(t, disk, ballast, room)
		out, err := a.publish(second, site)
		if err == nil {
			t.Fatalf("with %d bytes free all was written", room)
		}
		if !strings.Contains(out, "no space left") {
			t.Errorf("with %d bytes free: %s", room, out)
		}
		if state(t, site) != old {
			t.Fatalf("with %d bytes free the old site is not whole", room)
		}
		if err := os.Remove(ballast); err != nil {
			t.Fatal(err)
		}
		entries, err := os.ReadDir(disk)
		if err != nil || len(entries) != 1 {
			t.Errorf("left on the disk: %v, %v", entries, err)
		}
	}
	a.mustPublish(second, site)
}

// fill leaves so many bytes of a disk free.
func fill(t *testing.T, disk, ballast string, room int64) {
	t.Helper()
	var s syscall.Statfs_t
	if err := syscall.Statfs(disk, &s); err != nil {
		t.Fatal(err)
	}
	free := int64(s.Bavail)*int64(s.Bsize) - room
	if err := os.WriteFile(ballast, make([]byte, max(free, 0)), 0o644); err != nil {
		t.Fatal(err)
	}
}

// TestNoRightToWrite publishes where it may not write: beside the site, into a
// folder that it may not enter, with a cache that it may not keep. The owner
// of the machine may write everywhere, so that the command runs as somebody else.
func TestNoRightToWrite(t *testing.T) {
	a := newApart(t)
	first, second := twoStates(t, a.root)
	a.mustPublish(first, a.site)
	old := state(t, a.site)
	program := filepath.Join(a.root, "yearmark") // the test's own may lie where nobody else may look
	copyFile(t, os.Args[0], program)
	open(t, a)
	as := func(args ...string) (string, error) {
		cmd := a.command(args...)
		cmd.Path = program
		if os.Getuid() == 0 {
			cmd.SysProcAttr = &syscall.SysProcAttr{Credential: &syscall.Credential{Uid: 65534, Gid: 65534}}
		}
		out, err := cmd.CombinedOutput()
		return string(out), err
	}
	shut(t, filepath.Dir(a.site), 0o555)
	out, err := as("publish", second, "--to", a.site)
	if err == nil || !strings.Contains(out, "permission denied") || !strings.Contains(out, "cannot write beside") || !strings.Contains(out, "belongs to root, and you are ") && !strings.Contains(out, "is yours but shut") {
		t.Errorf("beside the site: %v: %s", err, out)
	}
	if state(t, a.site) != old {
		t.Fatal("the old site is not whole")
	}
	out, err = as("publish", second, "--to", filepath.Join(filepath.Dir(a.site), "new"))
	if err == nil || !strings.Contains(out, "permission denied") {
		t.Errorf("a new folder: %v: %s", err, out)
	}
	a.clean("site")
	shut(t, a.cache, 0o555)
	shut(t, filepath.Dir(a.site), 0o777)
	if out, err := as("publish", second, "--to", filepath.Join(filepath.Dir(a.site), "new")); err != nil {
		t.Errorf("without a cache: %v: %s", err, out)
	}
}

// copyFile copies a program, for everybody to run.
func copyFile(t *testing.T, from, to string) {
	t.Helper()
	data, err := os.ReadFile(from)
	if err == nil {
		err = os.WriteFile(to, data, 0o755)
	}
	if err != nil {
		t.Fatal(err)
	}
}

// open lets everybody look into the folders of the test and write where
// publishing works.
func open(t *testing.T, a *apart) {
	t.Helper()
	for folder := a.root; len(folder) > len(os.TempDir()); folder = filepath.Dir(folder) {
		shut(t, folder, 0o755)
	}
	for _, folder := range []string{a.cache, a.temp} {
		_ = filepath.Walk(folder, func(path string, info os.FileInfo, err error) error {
			if err == nil {
				shut(t, path, 0o777)
			}
			return err
		})
	}
}

func shut(t *testing.T, folder string, mode os.FileMode) {
	t.Helper()
	if err := os.Chmod(folder, mode); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = os.Chmod(folder, 0o755) })
}
