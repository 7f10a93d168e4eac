//go:build unix

package output

import (
	"context"
	"errors"
	"net"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
)

func TestPipesAndSocketsAreRefused(t *testing.T) {
	for what, make := range map[string]func(file string) error{
		"named pipe": func(file string) error { return syscall.Mkfifo(file, 0o644) },
		"socket": func(file string) error {
			l, err := net.Listen("unix", file)
			if err == nil {
				l.(*net.UnixListener).SetUnlinkOnClose(false)
				err = l.Close()
			}
			return err
		},
	} {
		target := filepath.Join(t.TempDir(), "s")
		mustReplace(t, target, "first")
		if err := make(filepath.Join(target, "x")); err != nil {
			t.Fatal(err)
		}
		err := Replace(t.Context(), target, Mark{}, fillWith("second", 0))
		if err == nil || !strings.Contains(err.Error(), filepath.Join(target, "x")+" is a "+what) || !strings.Contains(err.Error(), "move it out") {
			t.Errorf("%s: %v", what, err)
		}
		if got := editionOf(t, target); got != "first" {
			t.Errorf("edition %q in place, want first", got)
		}
	}
}

// TestModesAreTheSameWhateverTheUmask: a site written under a narrow umask and
// one written over it under a wide one have files of 0644 and folders of 0755.
func TestModesAreTheSameWhateverTheUmask(t *testing.T) {
	target := filepath.Join(t.TempDir(), "site")
	before := syscall.Umask(0o077)
	defer syscall.Umask(before)
	for _, mask := range []int{0o077, 0} {
		syscall.Umask(mask)
		mustReplace(t, target, "same")
		for _, name := range []string{".", "models", "models/m00.html", MarkFile} {
			info, err := os.Stat(filepath.Join(target, name))
			want := os.FileMode(0o644)
			if name == "." || name == "models" {
				want = 0o755
			}
			if err != nil || info.Mode().Perm() != want {
				t.Errorf("umask %o: %s has %v, %v, want %v", mask, name, info.Mode(), err, want)
			}
		}
	}
	if err := os.Chmod(filepath.Join(target, "models", "m00.html"), 0o600); err != nil { // as publishes once left it
		t.Fatal(err)
	}
	mustReplace(t, target, "same")
	if info, err := os.Stat(filepath.Join(target, "models", "m00.html")); err != nil || info.Mode().Perm() != 0o644 {
		t.Errorf("an unchanged file of 0600 is now %v, %v", info.Mode(), err)
	}
}

func TestAContextThatEndsLeavesTheOldSite(t *testing.T) {
	target := filepath.Join(t.TempDir(), "site")
	mustReplace(t, target, "first")
	strangers(t, target)
	ctx, cancel := context.WithCancel(t.Context())
	err := Replace(ctx, target, Mark{}, func(w *Writer) error {
		if err := w.Put("models/m00.html", nil); err != nil {
			return err
		}
		cancel()
		return fillWith("second", 0)(w)
	})
	if !errors.Is(err, context.Canceled) {
		t.Errorf("got %v", err)
	}
	if got := editionOf(t, target); got != "first" {
		t.Errorf("edition %q in place, want first", got)
	}
	if left := neighbours(t, target); len(left) != 1 {
		t.Errorf("left beside the site: %v", left)
	}
}
