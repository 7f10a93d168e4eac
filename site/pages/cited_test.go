package pages

import (
	"bytes"
	"fmt"
	"math/rand/v2"
	"path/filepath"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"yearmark/schema"
	"yearmark/testdata/need"
)

// TestCitingsAreRenewed holds what is taken over from state to state against
// what is made from nothing, over edits that add, take away and move citations.
func TestCitingsAreRenewed(t *testing.T) {
	ref, _, err := schema.Read(filepath.Join(need.Root(t), "content"))
	if err != nil {
		t.Fatal(err)
	}
	rng := rand.New(rand.NewPCG(3, 1))
	kept := newCitings(ref)
	for n := range 40 {
		all := citing(ref)
		r := all[rng.IntN(len(all))]
		source := r.Header().Source
		if from := ref.Sources.All(); n%3 > 0 {
			a, b := from[rng.IntN(len(from))].ID, from[rng.IntN(len(from))].ID
			source = bytes.ReplaceAll(source, []byte(a), []byte(b))
			source = fmt.Appendf(bytes.Clone(source), "\nEdited %d.\n", n)
		} else {
			source = nil
		}
		records := slices.DeleteFunc(ref.Records(), func(other schema.Record) bool { return other == r })
		if changed, _ := schema.ReadRecord(r.Header().File, source); source != nil && changed != nil {
			records = append(records, changed)
		}
		ref, _ = schema.Assemble(ref.Folder, ref.Settings, records, ref.Pictures)
		kept.of(ref.Sources.All()[rng.IntN(ref.Sources.Len())].ID)
		kept = kept.renew(ref)
		anew := newCitings(ref)
		same := cmp.Options{cmpopts.EquateEmpty(), cmp.Comparer(func(a, b schema.Record) bool { return a == b })}
		for _, id := range slices.Sorted(func(yield func(string) bool) {
			for id := range anew.by {
				yield(id)
			}
			for id := range kept.by {
				yield(id)
			}
		}) {
			if diff := cmp.Diff(anew.by[id], kept.by[id], same); diff != "" {
				t.Fatalf("after %d edits, %s (-made anew +renewed):\n%s", n+1, id, diff)
			}
		}
		for _, s := range ref.Sources.All() {
			if want, got := anew.of(s.ID), kept.of(s.ID); (want == nil) != (got == nil) || want != nil && len(want.Places) != len(got.Places) {
				t.Fatalf("after %d edits the places of %s differ", n+1, s.ID)
			}
		}
	}
}
