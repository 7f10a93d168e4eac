package assets

import (
	"bytes"
	"path/filepath"
	"strings"
	"testing"

	"github.com/evanw/esbuild/pkg/api"

	"yearmark/testdata/need"
)

// TestBundlesAreGenerated bundles the modules anew, in memory, with what the
// Makefile tells esbuild, and wants the very bytes that are embedded, and no
// bundle of a module that is gone.
func TestBundlesAreGenerated(t *testing.T) {
	folder := filepath.Join(need.Root(t), "site", "assets")
	entries, err := filepath.Glob(filepath.Join(folder, "js", "*.js"))
	if err != nil {
		t.Fatal(err)
	}
	result := api.Build(api.BuildOptions{
		EntryPoints: entries, Bundle: true, Format: api.FormatIIFE, Target: api.ES2022, AbsWorkingDir: filepath.Dir(filepath.Dir(folder)),
		MinifyWhitespace: true, MinifyIdentifiers: true, MinifySyntax: true, Outdir: filepath.Join(folder, "bundles"),
	})
	for _, trouble := range result.Errors {
		t.Error(trouble.Text)
	}
	fresh := map[string][]byte{}
	for _, file := range result.OutputFiles {
		fresh[filepath.Base(file.Path)] = file.Contents
	}
	for name, script := range Scripts() {
		if !bytes.Equal(script.Data, fresh[name]) {
			t.Errorf("bundles/%s is not what the modules give; run make generate", name)
		}
		delete(fresh, name)
	}
	for name := range fresh {
		t.Errorf("bundles/%s is missing; run make generate", name)
	}
}

// TestScriptsAreClassic wants scripts that a page may load from a folder on a
// disk, where browsers refuse modules, each under a name of its content.
func TestScriptsAreClassic(t *testing.T) {
	for name, script := range Scripts() {
		if bytes.Contains(script.Data, []byte("import.meta")) || bytes.Contains(script.Data, []byte("import(")) || bytes.HasPrefix(script.Data, []byte("import")) {
			t.Errorf("%s is a module", name)
		}
		if want := AssetFolder + strings.TrimSuffix(name, ".js") + "-" + hash(script.Data) + ".js"; script.Path != want {
			t.Errorf("%s is kept as %s, want %s", name, script.Path, want)
		}
	}
}
