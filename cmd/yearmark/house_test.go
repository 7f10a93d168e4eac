package main

import (
	"encoding/json"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"yearmark/testdata/need"
)

// house lists what each package may import of this module. Arrows point down
// only: a package that is missing here, or an arrow that is not, fails the
// test, and so does an arrow listed here that nothing uses.
var house = map[string]string{
	"schema/edits":       "",
	"schema/english":     "",
	"schema/edtf":        "schema/english",
	"schema/files":       "",
	"schema/parallel":    "",
	"schema/sound":       "",
	"schema/transcript":  "",
	"schema":             "schema/edits schema/edtf schema/english schema/files schema/parallel schema/transcript",
	"chronology/network": "",
	"chronology":         "chronology/network schema schema/edtf schema/parallel",
	"provenance":         "schema",
	"checks":             "bench chronology provenance schema schema/edtf schema/english schema/parallel schema/sound schema/transcript",
	"dating/odds":        "",
	"dating":             "bench chronology dating/odds provenance schema schema/edits schema/edtf schema/english schema/parallel",
	"dating/tables":      "dating dating/odds schema schema/parallel",
	"search/bits":        "",
	"search/words":       "",
	"search":             "schema schema/edits schema/edtf schema/english schema/parallel search/bits search/words",
	"bench":              "",

	"site/assets":   "",
	"site/guide":    "",
	"site/charts":   "schema/edtf",
	"site/listing":  "schema",
	"site/prose":    "schema",
	"site/pictures": "checks schema/files",
	"site/pages":    "bench checks chronology dating exchange/compare provenance schema schema/edtf schema/english schema/sound site/assets site/charts site/guide site/listing site/pictures site/prose",

	"exchange/compare":        "checks chronology dating dating/odds provenance schema schema/edtf schema/english schema/parallel",
	"exchange/editing":        "schema",
	"exchange/journal":        "schema schema/files",
	"exchange/rename":         "exchange/editing exchange/journal schema",
	"exchange/intake/blank":   "exchange/journal schema",
	"exchange/intake":         "dating exchange/editing exchange/journal schema schema/english schema/files",
	"exchange/sheets/csl":     "schema schema/edtf",
	"exchange/sheets":         "bench chronology dating exchange/editing exchange/journal exchange/sheets/csl provenance schema schema/edtf schema/english schema/transcript",
	"exchange/exports/iiif":   "chronology schema",
	"exchange/exports/linked": "chronology exchange/exports/iiif schema schema/edtf",
	"exchange/exports":        "bench chronology dating exchange/exports/iiif exchange/exports/linked exchange/intake exchange/sheets exchange/sheets/csl provenance schema schema/edtf",

	"builder/output":  "",
	"builder/preview": "",
	"builder/desk":    "builder/preview checks dating exchange/compare exchange/editing exchange/intake exchange/journal schema schema/edtf schema/english schema/files site/assets site/pictures site/prose",
	"builder/starter": "exchange/intake/blank exchange/journal",
	"builder":         "builder/desk builder/output builder/preview builder/starter checks chronology dating dating/tables exchange/compare exchange/editing exchange/exports exchange/exports/iiif exchange/journal exchange/rename provenance schema schema/english schema/parallel search site/pages site/pictures",

	"cmd/yearmark": "builder builder/desk builder/output builder/starter checks dating exchange/compare exchange/intake exchange/intake/blank exchange/journal exchange/rename exchange/sheets schema schema/edtf schema/english schema/files search site/guide",
}

// engines lists libraries that one package hides from all others.
var engines = map[string]string{
	"github.com/blevesearch/": "search",
	"go.yaml.in/":             "schema",
	"github.com/spf13/cobra":  "cmd/yearmark",
	"github.com/fsnotify/":    "builder/preview",
	"github.com/evanw/":       "a test",
	"github.com/gopxl/":       "schema/sound",
}

type listed struct {
	ImportPath string
	Imports    []string
}

func packages(t *testing.T) []listed {
	t.Helper()
	cmd := exec.Command("go", "list", "-json=ImportPath,Imports", "./...")
	cmd.Dir = need.Root(t)
	out, err := cmd.Output()
	if err != nil {
		t.Fatalf("go list: %v", err)
	}
	var all []listed
	for d := json.NewDecoder(strings.NewReader(string(out))); d.More(); {
		var l listed
		if err := d.Decode(&l); err != nil {
			t.Fatal(err)
		}
		all = append(all, l)
	}
	if len(all) < 12 {
		t.Fatalf("only %d packages listed", len(all))
	}
	return all
}

func TestArrowsPointDownOnly(t *testing.T) {
	for _, l := range packages(t) {
		path := strings.TrimPrefix(l.ImportPath, "yearmark/")
		if strings.Contains(path, "testdata/") {
			for _, imported := range l.Imports {
				if below, ours := strings.CutPrefix(imported, "yearmark/"); ours && !strings.Contains(below, "testdata/") {
					t.Errorf("%s imports %s; what makes test data stands on its own", path, below)
				}
			}
			continue
		}
		row, ok := house[path]
		if !ok {
			t.Errorf("%s has no row in the table of the house", path)
		}
		allowed := strings.Fields(row)
		for _, imported := range l.Imports {
			below, ours := strings.CutPrefix(imported, "yearmark/")
			if ours && !slices.Contains(allowed, below) {
				t.Errorf("%s imports %s, which the house does not allow", path, below)
			}
		}
		for _, below := range allowed {
			if !slices.Contains(l.Imports, "yearmark/"+below) {
				t.Errorf("%s may import %s and does not; take it out of the table", path, below)
			}
			if _, ok := house[below]; !ok {
				t.Errorf("%s may import %s, which is not a package of the house", path, below)
			}
		}
	}
}

// layers is the picture of the house from above: what stands in one layer
// knows nothing of its peers in other folders nor of the layers above it.
var layers = []string{"schema", "chronology provenance bench", "checks dating search", "exchange", "site", "builder", "cmd"}

func TestRowsFollowTheLayers(t *testing.T) {
	layer := map[string]int{}
	for i, names := range layers {
		for name := range strings.FieldsSeq(names) {
			layer[name] = i
		}
	}
	folder := func(path string) string { top, _, _ := strings.Cut(path, "/"); return top }
	for path, row := range house {
		for below := range strings.FieldsSeq(row) {
			if folder(path) != folder(below) && layer[folder(below)] >= layer[folder(path)] {
				t.Errorf("%s may import %s, which does not stand below it", path, below)
			}
		}
	}
}

func TestEnginesAreHidden(t *testing.T) {
	for _, l := range packages(t) {
		path := strings.TrimPrefix(l.ImportPath, "yearmark/")
		for library, owner := range engines {
			for _, imported := range l.Imports {
				if strings.HasPrefix(imported, library) && path != owner && !strings.HasPrefix(path, owner+"/") {
					t.Errorf("%s imports %s, which only %s may know", path, imported, owner)
				}
			}
		}
	}
}

// skipping finds ways to leave a test out other than through package need,
// which fails under `make test`.
var skipping = regexp.MustCompile(`\.(Skip|Skipf|SkipNow)\(|testing\.Short\(\)`)

func TestNothingIsSkippedSilently(t *testing.T) {
	root := need.Root(t)
	seen := 0
	err := filepath.WalkDir(root, func(path string, e os.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if e.IsDir() && (e.Name() == "node_modules" || strings.HasPrefix(e.Name(), ".") && path != root) {
			return filepath.SkipDir
		}
		if !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, filepath.Join("need", "need.go")) || strings.HasSuffix(path, "house_test.go") {
			return nil
		}
		seen++
		data, err := os.ReadFile(path)
		if loc := skipping.Find(data); loc != nil {
			t.Errorf("%s leaves a test out by itself (%s); ask package need instead", path, loc)
		}
		return err
	})
	if err != nil || seen < 50 {
		t.Errorf("%d files read, %v", seen, err)
	}
}
