package builder_test

import (
	"os"
	"path/filepath"
	"testing"

	"yearmark/builder"
	"yearmark/testdata/need"
)

// TestARememberedEditionKeepsItsName: the edition that a later one is compared
// with is named as it was published, though its pictures are not remembered.
func TestARememberedEditionKeepsItsName(t *testing.T) {
	folder := t.TempDir()
	if err := os.CopyFS(folder, os.DirFS(filepath.Join(need.Root(t), "content"))); err != nil {
		t.Fatal(err)
	}
	if err := os.RemoveAll(filepath.Join(folder, "editions")); err != nil {
		t.Fatal(err)
	}
	first, err := builder.Open(t.Context(), folder)
	if err != nil {
		t.Fatal(err)
	}
	if name, err := first.Remember(); err != nil || name == "" {
		t.Fatalf("remembered as %q: %v", name, err)
	}
	if err := os.Remove(filepath.Join(folder, "pages", "rules.md")); err != nil {
		t.Fatal(err)
	}
	second, err := builder.Open(t.Context(), folder)
	if err != nil {
		t.Fatal(err)
	}
	before, err := second.Previous(t.Context())
	if err != nil || before == nil {
		t.Fatalf("%v, %v", before, err)
	}
	if before.Edition != first.Edition || before.Edition == second.Edition {
		t.Errorf("it was %s, is remembered as %s; now it is %s", first.Edition, before.Edition, second.Edition)
	}
}
