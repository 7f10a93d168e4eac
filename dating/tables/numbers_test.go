package tables_test

import (
	"encoding/json"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"yearmark/chronology"
	"yearmark/dating"
	"yearmark/dating/tables"
	"yearmark/provenance"
	"yearmark/schema"
	"yearmark/testdata/need"
)

// TestNodeLooksNumbersUp holds the browser's answers about numbers to the engine's, over the demonstration.
func TestNodeLooksNumbersUp(t *testing.T) {
	node, root := need.Node(t), need.Root(t)
	ref, _, err := schema.Read(filepath.Join(root, "content"))
	if err != nil {
		t.Fatal(err)
	}
	e := dating.New(ref, chronology.Build(ref), provenance.Weigh(ref))
	input := struct {
		Numbers json.RawMessage `json:"numbers"`
		Texts   []string        `json:"texts"`
	}{Texts: []string{
		"65-172", "65172", "65 172", "65.172 ", "H-24", "h24", "H 24", "H25", "H42", "HZ4", "HS1234", "hs-123", "6S-172", "65-17", "651-72", "zz9", "", "-", "•42 @ 28", "42•", "45# @ 28", "45 lb", "45",
		"1965", "no. 3", "D0455", "D455", "d 04S5", "Plover 1965", "7 1/4 in", strings.Repeat("9", 60), "S196", "I1", "-40", "X42", "the brunt talk", "Halvane & Son",
		"oval mark 1962", "oval 1962", "1962 1965", "K 1962", "ser. 6 172", "ash bow 42", "HS 1962", "½ 65",
	}}
	files, manifest := tables.Build(e, nil)
	for _, f := range files {
		if f.Name == manifest.Numbers {
			input.Numbers = f.Data
		}
	}
	data, err := json.Marshal(input)
	if err != nil {
		t.Fatal(err)
	}
	file := filepath.Join(t.TempDir(), "numbers.json")
	if err := os.WriteFile(file, data, 0o600); err != nil {
		t.Fatal(err)
	}
	run := exec.Command(node, "testdata/numbers.mjs", filepath.Join(root, "site", "assets", "js", "number", "lookup.js"), file)
	run.Stderr = os.Stderr
	out, err := run.Output()
	if err != nil {
		t.Fatal(err)
	}
	var got []struct {
		Lines []string
		Looks bool
	}
	if err := json.Unmarshal(out, &got); err != nil {
		t.Fatal(err)
	}
	fits, near := 0, 0
	for i, text := range input.Texts {
		n := e.Number(text)
		fits, near = fits+min(1, len(n.Fits)), near+min(1, len(n.Near))
		if diff := cmp.Diff(n.Words(ref), got[i].Lines); diff != "" {
			t.Errorf("%q, in the browser:\n%s", text, diff)
		}
		if looks := dating.LooksLikeNumber(text, func(y int) bool { return ref.Horizon().First <= y && y <= ref.Horizon().Last }); looks != got[i].Looks {
			t.Errorf("%q looks like a number: %v, in the browser %v", text, looks, got[i].Looks)
		}
	}
	if fits < 8 || near < 5 {
		t.Errorf("%d numbers fit and %d are near: too few", fits, near)
	}
	for _, alike := range [][]string{{"65-172", "65172", "65 172"}, {"H-24", "h24", "H 24"}} {
		first := strings.Join(e.Number(alike[0]).Words(ref), "\n")
		for _, text := range alike[1:] {
			if words := strings.Join(e.Number(text).Words(ref), "\n"); words != first || !strings.Contains(words, " by ") {
				t.Errorf("%q says %q, and %q %q", alike[0], first, text, words)
			}
		}
	}
}
