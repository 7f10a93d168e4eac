package pages_test

import (
	"encoding/json"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"yearmark/dating"
	"yearmark/testdata/need"
)

// TestASecondLookFindsAnExchangedPart exchanges every visible part of every
// bow of the demonstration in turn for another one, and answers the form as
// its owner would, by the page's own modules: at least 85 in 100 are found where
// the model is known and 84 where it is not, in at most six taps of the second
// look at the median.
func TestASecondLookFindsAnExchangedPart(t *testing.T) {
	for _, c := range []struct {
		name   string
		chosen bool
		least  int
	}{{"model chosen", true, 85}, {"model not known", false, 84}} {
		t.Run(c.name, func(t *testing.T) { findExchanged(t, c.chosen, c.least) })
	}
}

func findExchanged(t *testing.T, chosen bool, least int) {
	d := demonstrationFacts(t)
	type bow struct {
		ID       string               `json:"id"`
		Model    string               `json:"model"`
		Observed []dating.Observation `json:"observed"`
	}
	input := struct {
		Files  map[string]string `json:"files"`
		Bows   []bow             `json:"bows"`
		Chosen bool              `json:"chosen"`
	}{Files: map[string]string{}, Chosen: chosen}
	for _, path := range d.site.Paths() {
		name, ok := strings.CutPrefix(path, "data/dating/")
		if !ok || !strings.HasSuffix(name, ".js") {
			continue
		}
		data, err := d.site.Render(path)
		if err != nil {
			t.Fatal(err)
		}
		input.Files[name] = string(data)
	}
	for _, e := range d.ref.Examples.All() {
		if e.Model.Value != "" {
			input.Bows = append(input.Bows, bow{e.ID, e.Model.Value, dating.QuestionOf(d.ref, e).Observed})
		}
	}
	data, err := json.Marshal(input)
	if err != nil {
		t.Fatal(err)
	}
	file := filepath.Join(t.TempDir(), "bows.json")
	if err := os.WriteFile(file, data, 0o600); err != nil {
		t.Fatal(err)
	}
	run := exec.Command(need.Node(t), "testdata/exchanged.mjs", filepath.Join(need.Root(t), "site", "assets", "js"), file)
	run.Stderr = os.Stderr
	out, err := run.Output()
	if err != nil {
		t.Fatal(err)
	}
	var parts []struct {
		ID, Part, Now, End string
		Since              *int
	}
	if err := json.Unmarshal(out, &parts); err != nil {
		t.Fatal(err)
	}
	if path := os.Getenv("YEARMARK_LOOK"); path != "" {
		if err := os.WriteFile(path+"-exchanged.json", out, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	found := 0
	var taps []int // of those that the questions alone had not found
	for _, p := range parts {
		if p.Since != nil {
			found++
		}
		if p.Since != nil && *p.Since > 0 {
			taps = append(taps, *p.Since)
		}
	}
	slices.Sort(taps)
	median := taps[len(taps)/2]
	t.Logf("of %d exchanged parts %d are found, %d of them by the second look, in %d taps at the median", len(parts), found, len(taps), median)
	if len(parts) < 200 || found*100 < len(parts)*least || median > 6 {
		t.Errorf("fewer than %d in 100, or in more than 6 taps", least)
	}
}
