package chronology

import (
	"testing"

	"yearmark/schema"
)

// TestWeakness: what is settled stands before all else, then the kinds of
// source in the order of their credence (an example as such, a source that is
// not there as a recollection), the editor's own figures before the defaults;
// then what cites nothing, then what is disputed.
func TestWeakness(t *testing.T) {
	ref := records(t, exampleSeven,
		file{"reference.yaml", "name: R\nyears: 1930/1985\njudgement: {credence: {letter: 0.91}}\n"},
		file{"sources/talk.md", "---\nrecord: source\nname: A talk\nkind: recollection\n---\n"},
		model("plover", `made: {span: 1958/1971}
features:
  - {id: settled, feature: mark, value: oval, span: 1960, cites: [talk], against: [bulletin], settled: {because: x, by: y, on: 2026-01-01}}
  - {id: list, feature: mark, value: oval, span: 1961, cites: [talk, "list-1964, p. 1"]}
  - {id: letter, feature: mark, value: oval, span: 1962, cites: [letter]}
  - {id: example, feature: mark, value: oval, span: 1963, cites: [example-0007]}
  - {id: talk, feature: mark, value: oval, span: 1964, cites: [talk]}
  - {id: uncited, feature: mark, value: oval, span: 1965}
  - {id: overruled, feature: mark, value: script, span: 1966, cites: [bulletin]}
`))
	plover, _ := ref.Models.Get("plover")
	g, _, _ := Build(ref).find(plover.Made)
	var last int
	for i, c := range plover.Features {
		got := g.weakness(&statement{kind: spanned, claim: c})
		if i > 0 && got <= last {
			t.Errorf("%s has weakness %d, no more than what stands above it in the list", c.ID.Value, got)
		}
		last = got
	}
	talk, _ := plover.Claim("talk")
	gone := &schema.Claim{About: schema.AboutFeature, Model: plover, Cites: []schema.Citation{{Source: "gone"}}}
	if a, b := g.weakness(&statement{kind: spanned, claim: gone}), g.weakness(&statement{kind: spanned, claim: talk}); a != b {
		t.Errorf("a source that is not there has weakness %d, want a recollection's, %d", a, b)
	}
	gone.Disputed.Value = true
	if got := g.weakness(&statement{kind: spanned, claim: gone}); got != overturned {
		t.Errorf("disputed: weakness %d, want %d", got, overturned)
	}
}
