//go:build !windows

package output

import (
	"errors"
	"fmt"
	"path/filepath"
	"testing"
)

// TestAnotherTemporaryFolderDoesNotMix publishes twice at once from processes
// that cannot see each other's locks in the temporary folder.
func TestAnotherTemporaryFolderDoesNotMix(t *testing.T) {
	target := filepath.Join(t.TempDir(), "site")
	err := Replace(target, Mark{}, func(w *Writer) error {
		t.Setenv("TMPDIR", t.TempDir())
		if err := Replace(target, Mark{}, fillWith("second", 0)); !errors.Is(err, ErrBusy) {
			return fmt.Errorf("the second publish got %v, want ErrBusy", err)
		}
		return fillWith("first", 0)(w)
	})
	if err != nil {
		t.Fatal(err)
	}
	if got := editionOf(t, target); got != "first" {
		t.Errorf("edition %q in place, want first", got)
	}
	mustReplace(t, target, "third")
	if left := neighbours(t, target); len(left) != 1 {
		t.Errorf("left beside the site: %v", left)
	}
}
