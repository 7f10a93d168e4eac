package checks

import (
	"path/filepath"
	"testing"

	"yearmark/chronology"
	"yearmark/provenance"
	"yearmark/schema"
)

// One list for both of two woods in the same years is right about one of them:
// half of its .97 each. A third claim, of other years, keeps it whole.
func TestOneSourceForBothSidesOfAContradiction(t *testing.T) {
	f := readFixture(t, filepath.Join(brokenFolder(t), "two-values.txtar"))
	f.bad["models/plover.md"].Data = []byte(`---
record: model
name: Plover
maker: halvane
made: {span: 1958/1971, cites: ["list-1958, p. 2", "list-1971, p. 9"]}
features:
  - {id: a, feature: riser-wood, value: padauk, span: 1958/1967, cites: ["list-1958, p. 2"]}
  - {id: b, feature: riser-wood, value: walnut, span: 1965/1971, cites: ["list-1958, p. 3"]}
  - {id: c, feature: maker-mark, value: oval, span: 1958/1971, cites: ["list-1958, p. 4"]}
---
`)
	ref, problems, err := schema.ReadFS(f.bad, "fixture")
	if err != nil || len(problems) > 0 {
		t.Fatal(err, problems)
	}
	pairs := Contradictory(ref, chronology.Build(ref))
	if len(pairs) != 1 || pairs[0][0].ID.Value != "a" || pairs[0][1].ID.Value != "b" {
		t.Fatalf("contradictory are %v", pairs)
	}
	w := provenance.Weigh(ref, pairs...)
	model, _ := ref.Models.Get("plover")
	for id, want := range map[string]float64{"a": .97 / 2, "b": .97 / 2, "c": .97} {
		c, _ := model.Claim(id)
		if got := w.Of(c).Credence; got < want-1e-12 || got > want+1e-12 {
			t.Errorf("%s is believed %g, want %g", id, got, want)
		}
	}
}
