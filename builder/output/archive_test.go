package output

import (
	"archive/zip"
	"bytes"
	"context"
	"io/fs"
	"os"
	"path/filepath"
	"testing"
)

// An archive holds what Yearmark wrote and nothing of a person's, and is the
// same bytes each time.
func TestArchive(t *testing.T) {
	site, file := filepath.Join(t.TempDir(), "site"), filepath.Join(t.TempDir(), "site.zip")
	fill := func(w *Writer) error {
		return w.Put("index.html", []byte("a page"))
	}
	if err := Replace(context.Background(), site, Mark{Name: "r"}, fill); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(site, "mine.txt"), []byte("a person's"), 0o600); err != nil {
		t.Fatal(err)
	}
	var first []byte
	for range 2 {
		if err := Archive(site, file); err != nil {
			t.Fatal(err)
		}
		data, err := os.ReadFile(file)
		if err != nil || first != nil && !bytes.Equal(first, data) {
			t.Fatalf("the second archive differs, %v", err)
		}
		first = data
	}
	r, err := zip.NewReader(bytes.NewReader(first), int64(len(first)))
	if err != nil {
		t.Fatal(err)
	}
	if page, err := fs.ReadFile(r, "index.html"); string(page) != "a page" || len(r.File) != 2 {
		t.Errorf("%d files, index.html %q, %v", len(r.File), page, err)
	}
	if err := Archive(t.TempDir(), file); err == nil {
		t.Error("a folder that is no site was packed")
	}
	if now, _ := os.ReadFile(file); !bytes.Equal(now, first) {
		t.Error("a refusal changed the archive")
	}
	left, _ := filepath.Glob(filepath.Join(filepath.Dir(file), ".yearmark-*"))
	if len(left) > 0 {
		t.Errorf("litter is left: %v", left)
	}
}
