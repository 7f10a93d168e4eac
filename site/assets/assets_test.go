package assets

import (
	"path"
	"slices"
	"strings"
	"testing"
)

// TestImportsAreWhole follows every import of every module by hand.
func TestImportsAreWhole(t *testing.T) {
	for name, script := range Scripts() {
		known := map[string][]byte{script.Path: script.Data}
		for _, asset := range Imports(name) {
			if known[asset.Path] != nil {
				t.Errorf("%s: %s is named twice", name, asset.Path)
			}
			known[asset.Path] = asset.Data
		}
		needed := map[string]bool{script.Path: true}
		for from, data := range known {
			for line := range strings.Lines(string(data)) {
				_, way, imports := strings.Cut(line, ` from "`)
				if !strings.HasPrefix(line, "import ") || !imports {
					continue
				}
				way, _, _ = strings.Cut(way, `"`)
				to := path.Join(path.Dir(from), way)
				if needed[to] = true; known[to] == nil {
					t.Errorf("%s: %s imports %s, which is not among %d imports", name, from, to, len(known)-1)
				}
			}
		}
		if len(needed) != len(known) {
			t.Errorf("%s: of %d modules named %d are imported", name, len(known), len(needed))
		}
	}
	if date := Imports("date.js"); len(date) < 20 || !slices.ContainsFunc(date, func(a Asset) bool { return strings.HasSuffix(a.Path, "/bench/setup.js") }) {
		t.Errorf("date.js imports %d modules", len(date))
	}
}
