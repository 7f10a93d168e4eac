package journal

import (
	"context"
	"errors"
	"io"
	"os"
	"path/filepath"
	"testing"

	"pgregory.net/rapid"
)

// TestUndoAndRedoAreInverse draws writes, undos and redos and holds the file
// against a list of states, as any editor keeps one.
func TestUndoAndRedoAreInverse(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		folder, err := os.MkdirTemp(t.TempDir(), "")
		if err != nil {
			t.Fatal(err)
		}
		j, err := Open(context.Background(), folder, io.Discard)
		if err != nil {
			t.Fatal(err)
		}
		defer j.Close()
		file := filepath.Join(folder, "a.md")
		states, at := [][]byte{nil}, 0
		for range rapid.IntRange(1, 20).Draw(r, "steps") {
			switch rapid.SampledFrom([]string{"write", "write", "undo", "undo", "redo"}).Draw(r, "what") {
			case "write":
				next := []byte(rapid.StringMatching(`[a-z]{1,6}`).Draw(r, "text"))
				if err := j.Write("a change", []Change{{File: "a.md", Before: states[at], After: next}}); err != nil {
					t.Fatal(err)
				}
				states, at = append(states[:at+1:at+1], next), at+1
			case "undo":
				e, err := j.Undo()
				if err != nil || (e == nil) != (at == 0) {
					r.Fatalf("undo at %d: %v, %v", at, e, err)
				}
				at = max(at-1, 0)
			case "redo":
				e, err := j.Redo()
				if err != nil || (e == nil) != (at == len(states)-1) {
					r.Fatalf("redo at %d of %d: %v, %v", at, len(states), e, err)
				}
				at = min(at+1, len(states)-1)
			}
			got, err := os.ReadFile(file)
			if errors.Is(err, os.ErrNotExist) {
				got, err = nil, nil
			}
			if err != nil || string(got) != string(states[at]) || (got == nil) != (states[at] == nil) {
				r.Fatalf("the file is %q, want %q (%v)", got, states[at], err)
			}
			undo, redo, err := j.Next()
			if err != nil || (undo != "") != (at > 0) || (redo != "") != (at < len(states)-1) {
				r.Fatalf("at %d of %d the next are %q and %q, %v", at, len(states), undo, redo, err)
			}
		}
	})
}
