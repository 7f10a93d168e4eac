package chronology

import (
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"yearmark/schema"
)

// club is a reference of two makers, one with a contradiction.
func club(t *testing.T) *schema.Reference {
	return records(t, exampleSeven,
		model("plover", "made: {span: 1958/1971, cites: [\"list-1958, p. 2\"]}\nfeatures:\n  - {id: oval, feature: mark, value: oval, attested: [{year: 1973, cites: [letter]}]}\n"),
		file{"makers/other.md", "---\nrecord: maker\nname: Other Bows\ntrading: {span: 1950/1970, cites: [\"directory, p. 3\"]}\n---\n"},
		file{"models/knot.md", "---\nrecord: model\nname: Knot\nmaker: other\nmade: {span: 1960/, cites: [\"list-1964, p. 2\"]}\nfeatures:\n  - {id: oval, feature: mark, value: oval, attested: [{year: 1965, cites: [example-0007]}]}\n---\n"})
}

// with gives the reference with one record written anew.
func with(t *testing.T, ref *schema.Reference, name, old, fresh string) *schema.Reference {
	t.Helper()
	all := ref.Records()
	i := slices.IndexFunc(all, func(r schema.Record) bool { return r.Header().File == name })
	if i < 0 || !strings.Contains(string(all[i].Header().Source), old) {
		t.Fatalf("%s does not say %q", name, old)
	}
	source := strings.Replace(string(all[i].Header().Source), old, fresh, 1)
	record, problems := schema.ReadRecord(name, []byte(source))
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	all[i] = record
	later, linked := schema.Assemble("test", ref.Settings, all, nil)
	if len(linked) > 0 {
		t.Fatal(linked)
	}
	return later
}

// TestRenew edits one record at a time: the renewed timeline says what one
// built anew says, and works out no more groups than the edit concerns.
func TestRenew(t *testing.T) {
	for _, edit := range []struct {
		name, file, old, fresh string
		anew                   []string // models whose groups are worked out anew
	}{
		{"a claim", "models/plover.md", "year: 1973", "year: 1970", []string{"plover"}},
		{"a maker", "makers/other.md", "1950/1970", "1950/1966", []string{"knot"}},
		{"a source of one", "sources/list-1964.md", "issued: 1964", "issued: 1958", []string{"knot"}},
		{"an example", "examples/0007.md", "seen: 2026-03-14", "name: The red bow", []string{"knot"}},
		{"a feature of both", "features/mark.md", "Oval mark", "Round mark", []string{"knot", "plover"}},
		{"a source of neither", "sources/list-1971.md", "List", "Catalogue", nil},
		{"a model's maker", "models/knot.md", "maker: other", "maker: halvane", []string{"knot", "plover"}},
	} {
		t.Run(edit.name, func(t *testing.T) {
			ref := club(t)
			first := Build(ref)
			before := map[string]*claimYears{}
			for _, m := range ref.Models.All() {
				g, i, _ := first.find(m.Made)
				before[m.ID] = &g.claims[i]
			}
			later := with(t, ref, edit.file, edit.old, edit.fresh)
			renewed := first.Renew(later)
			if diff := cmp.Diff(report(later, Build(later), everything(later)), report(later, renewed, everything(later))); diff != "" {
				t.Errorf("(-built +renewed):\n%s", diff)
			}
			var anew []string
			for _, m := range later.Models.All() {
				if g, i, _ := renewed.find(m.Made); &g.claims[i] != before[m.ID] {
					anew = append(anew, m.ID)
				}
			}
			if !slices.Equal(anew, edit.anew) {
				t.Errorf("worked out anew: %v, want %v", anew, edit.anew)
			}
		})
	}
	ref := club(t)
	plain := Build(ref)
	without := plain.Without(func(c schema.Citation) bool { return c.Source == "example-0007" })
	if diff := cmp.Diff(report(ref, plain, everything(ref)), report(ref, without.Renew(ref), everything(ref))); diff != "" {
		t.Errorf("what was left out stays left out (-built +renewed):\n%s", diff)
	}
	wider := ref.Settings
	wider.Judgement.Circa.Value = 5
	later, _ := schema.Assemble("test", wider, ref.Records(), nil)
	if g, i, _ := plain.Renew(later).find(ref.Makers.All()[0].Trading); &g.claims[i] == &plain.groups[0].claims[i] {
		t.Error("years were kept although the editor's judgement changed")
	}
}

// everything asks about the years of every claim.
func everything(ref *schema.Reference) (asked []string) {
	for _, c := range claims(ref) {
		asked = append(asked, "stated "+c.Key(), "years "+c.Key())
	}
	return asked
}
