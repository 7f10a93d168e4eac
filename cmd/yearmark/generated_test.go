package main

import (
	"bytes"
	"go/format"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/a-h/templ"
	"github.com/a-h/templ/generator"
	"github.com/a-h/templ/parser/v2"

	"yearmark/testdata/need"
)

// mostComponentLines keeps the components small enough to be read.
const mostComponentLines = 4500

// TestComponentsAreGenerated generates every component anew, in memory, and
// wants the very Go that is committed, and none without a component.
func TestComponentsAreGenerated(t *testing.T) {
	root := need.Root(t)
	files, lines := map[string][]byte{}, 0
	err := filepath.WalkDir(root, func(path string, e fs.DirEntry, err error) error {
		switch {
		case err != nil:
			return err
		case e.IsDir() && (e.Name() == "node_modules" || e.Name() == ".git"):
			return filepath.SkipDir
		case strings.HasSuffix(path, ".templ") || strings.HasSuffix(path, "_templ.go"):
			name, _ := filepath.Rel(root, path)
			files[filepath.ToSlash(name)], err = os.ReadFile(path)
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	for name, source := range files {
		stem, isComponent := strings.CutSuffix(name, ".templ")
		if !isComponent {
			if _, ok := files[strings.TrimSuffix(name, "_templ.go")+".templ"]; !ok {
				t.Errorf("%s is generated from nothing; delete it", name)
			}
			continue
		}
		lines += bytes.Count(source, []byte("\n"))
		if fresh := generated(t, name, source); !bytes.Equal(fresh, files[stem+"_templ.go"]) {
			t.Errorf("%s_templ.go is not what %s gives; run make generate", stem, name)
		}
	}
	if lines == 0 || lines > mostComponentLines {
		t.Errorf("the components have %d lines, want at most %d", lines, mostComponentLines)
	}
}

// generated gives the Go of one file of components.
func generated(t *testing.T, name string, source []byte) []byte {
	t.Helper()
	file, err := parser.ParseString(string(source))
	if err != nil {
		t.Fatalf("%s: %v", name, err)
	}
	var out bytes.Buffer
	if _, err := generator.Generate(file, &out, generator.WithFileName(name), generator.WithVersion(templ.Version())); err != nil {
		t.Fatalf("%s: %v", name, err)
	}
	code, err := format.Source(out.Bytes())
	if err != nil {
		t.Fatalf("%s: %v", name, err)
	}
	return code
}
