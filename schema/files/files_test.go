//go:build unix

package files

import (
	"errors"
	"io/fs"
	"net"
	"os"
	"path/filepath"
	"syscall"
	"testing"
)

// TestOnlyFilesAreOpened opens a pipe nobody writes to, a socket, a device, a
// folder and links to them in every way: all are refused, and none is waited for.
func TestOnlyFilesAreOpened(t *testing.T) {
	folder, err := os.MkdirTemp("", "files") // a short path: that of a socket is bounded
	if err != nil {
		t.Fatal(err)
	}
	defer os.RemoveAll(folder)
	path := func(name string) string { return filepath.Join(folder, name) }
	socket, err := net.Listen("unix", path("socket"))
	if err != nil {
		t.Fatal(err)
	}
	defer socket.Close()
	for _, err := range []error{
		syscall.Mkfifo(path("pipe"), 0o644), os.Mkdir(path("folder"), 0o755), os.Symlink("pipe", path("link")),
		os.Symlink("/dev/zero", path("device")), os.Symlink("/etc/passwd", path("out")), os.WriteFile(path("file"), []byte("text"), 0o644), os.Symlink("file", path("good")),
	} {
		if err != nil {
			t.Fatal(err)
		}
	}
	root, err := os.OpenRoot(folder)
	if err != nil {
		t.Fatal(err)
	}
	defer root.Close()
	for _, name := range []string{"pipe", "socket", "link", "folder"} {
		if f, err := Open(path(name)); f != nil || !errors.Is(err, ErrIrregular) {
			t.Errorf("%s: %v", name, err)
		}
		if f, err := OpenIn(root, name); f != nil || !errors.Is(err, ErrIrregular) {
			t.Errorf("%s below the root: %v", name, err)
		}
		if _, err := Read(path(name), 10); !errors.Is(err, ErrIrregular) {
			t.Errorf("%s read: %v", name, err)
		}
	}
	if _, err := Open(path("device")); !errors.Is(err, ErrIrregular) {
		t.Errorf("a device: %v", err)
	}
	if data, err := Read(path("good"), 2); err != nil || string(data) != "tex" {
		t.Errorf("a file reads %q, %v", data, err)
	}
	for how, fsys := range map[string]fs.FS{"in": In(root), "below": Below(folder)} {
		for _, name := range []string{"pipe", "socket", "link"} {
			if _, err := fsys.Open(name); !errors.Is(err, ErrIrregular) {
				t.Errorf("%s: %s: %v", how, name, err)
			}
			if _, err := fs.ReadFile(fsys, name); !errors.Is(err, ErrIrregular) {
				t.Errorf("%s: %s read: %v", how, name, err)
			}
		}
		for _, name := range []string{"device", "out", "../x", "gone"} {
			if _, err := fsys.Open(name); err == nil {
				t.Errorf("%s: %s was opened", how, name)
			}
		}
		data, err := fs.ReadFile(fsys, "good")
		entries, e := fs.ReadDir(fsys, ".")
		info, e2 := fs.Lstat(fsys, "good")
		if err != nil || e != nil || e2 != nil || string(data) != "text" || len(entries) != 8 || info.Mode()&fs.ModeSymlink == 0 {
			t.Errorf("%s: %q, %d entries, %v %v %v", how, data, len(entries), err, e, e2)
		}
	}
}
