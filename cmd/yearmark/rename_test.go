package main

import (
	"encoding/json"
	"io"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"yearmark/exchange/journal"
)

// TestARenameIsWholeAfterACrash stops a rename after every one of its files:
// the next writer finishes it, and undo brings records and pictures back.
func TestARenameIsWholeAfterACrash(t *testing.T) {
	root := t.TempDir()
	folder := filepath.Join(root, "r")
	said("begin", folder)
	picture := filepath.Join(folder, "pictures", "bows", "wren.svg")
	record := filepath.Join(folder, "models", "wren.md")
	source, err := os.ReadFile(record)
	if err != nil {
		t.Fatal(err)
	}
	for file, text := range map[string]string{picture: "<svg/>", record: "---\nrecord: model\npicture: bows/wren.svg\n" + string(source[len("---\nrecord: model\n"):])} {
		if err := os.MkdirAll(filepath.Dir(file), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(file, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	before := kept(t, folder)
	out := said("rename", "model", "wren", "night-bird", "--in", folder)
	after := kept(t, folder)
	if after["pictures/bows/night-bird.svg"] != "<svg/>" {
		t.Fatalf("the picture is not moved: %s", out)
	}
	entry := filepath.Join(folder, ".yearmark", "journal", "000001.json")
	data, err := os.ReadFile(entry)
	if err != nil {
		t.Fatal(err)
	}
	var written journal.Entry
	if err := json.Unmarshal(data, &written); err != nil {
		t.Fatal(err)
	}
	for done := range written.Files {
		if err := os.Rename(entry, filepath.Join(filepath.Dir(entry), "pending.json")); err != nil {
			t.Fatal(err)
		}
		for _, c := range written.Files[done:] { // those that the crash kept from being exchanged
			path := filepath.Join(folder, filepath.FromSlash(c.File))
			if c.Before == nil {
				err = os.Remove(path)
			} else {
				err = os.WriteFile(path, c.Before, 0o644)
			}
			if err != nil {
				t.Fatal(err)
			}
		}
		j, err := journal.Open(t.Context(), folder, io.Discard)
		if err != nil {
			t.Fatal(err)
		}
		if err := j.Close(); err != nil {
			t.Fatal(err)
		}
		if now := kept(t, folder); !maps.Equal(now, after) {
			t.Errorf("stopped after %d files: %v, want %v", done, now, after)
		}
	}
	said("undo", "--in", folder)
	if now := kept(t, folder); !maps.Equal(now, before) {
		t.Errorf("undone: %v, want %v", now, before)
	}
}

// kept gives every file of a reference's folder but the journal's.
func kept(t *testing.T, folder string) map[string]string {
	t.Helper()
	all := map[string]string{}
	err := fs.WalkDir(os.DirFS(folder), ".", func(path string, e fs.DirEntry, err error) error {
		if err != nil || e.IsDir() || strings.HasPrefix(path, ".yearmark") {
			return err
		}
		data, err := os.ReadFile(filepath.Join(folder, path))
		all[path] = string(data)
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return all
}
