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

// house lists what each room may import of this module. Arrows point down
// only: a room that is missing here, or an arrow that is not, fails the test.
// A room's own lower rooms (those whose path begins with its own) are always
// open to it.
var house = map[string][]string{
	"schema/edtf":        {},
	"schema":             {"schema/edtf"},
	"chronology/network": {},
	"chronology":         {"schema", "schema/edtf"},
	"provenance":         {"schema", "schema/edtf"},
	"checks":             {"schema", "schema/edtf", "chronology", "provenance"},
	"dating":             {"schema", "schema/edtf", "chronology", "provenance"},
	"dating/tables":      {"dating", "schema", "schema/edtf", "chronology", "provenance"},
	"search":             {"schema", "schema/edtf"},
	"bench":              {},
	"builder":            {"schema", "schema/edtf", "chronology", "provenance", "checks", "dating", "dating/tables", "search", "bench"},
	"cmd/yearmark":       {"builder", "builder/starter", "schema", "schema/edtf", "checks", "dating", "search"},
	"testdata/made":      {},
	"testdata/need":      {},
}

// engines lists libraries that one room hides from all others.
var engines = map[string]string{
	"github.com/blevesearch/": "search",
	"go.yaml.in/":             "schema",
	"github.com/spf13/cobra":  "cmd/yearmark",
	"github.com/fsnotify/":    "builder/preview",
}

type listed struct {
	ImportPath string
	Imports    []string
}

func rooms(t *testing.T) []listed {
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

// roomOf gives the row of the house that a package belongs to.
func roomOf(path string) string {
	for p := path; p != "."; p = filepath.Dir(p) {
		if _, ok := house[p]; ok {
			return p
		}
	}
	return ""
}

func TestArrowsPointDownOnly(t *testing.T) {
	for _, l := range rooms(t) {
		path := strings.TrimPrefix(l.ImportPath, "yearmark/")
		room := roomOf(path)
		if room == "" {
			t.Errorf("%s stands in no room of the house; give it a row in this table", path)
			continue
		}
		for _, imported := range l.Imports {
			below, ours := strings.CutPrefix(imported, "yearmark/")
			if !ours || roomOf(below) == room || strings.HasPrefix(below, room+"/") {
				continue
			}
			if !slices.Contains(house[room], roomOf(below)) {
				t.Errorf("%s imports %s, which the house does not allow", path, below)
			}
		}
	}
}

func TestEnginesAreHidden(t *testing.T) {
	for _, l := range rooms(t) {
		path := strings.TrimPrefix(l.ImportPath, "yearmark/")
		for library, room := range engines {
			for _, imported := range l.Imports {
				if strings.HasPrefix(imported, library) && path != room && !strings.HasPrefix(path, room+"/") {
					t.Errorf("%s imports %s, which only %s may know", path, imported, room)
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
