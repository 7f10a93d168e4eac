package dating_test

import (
	"bytes"
	"math/rand/v2"
	"reflect"
	"slices"
	"testing"

	"yearmark/chronology"
	"yearmark/dating"
	"yearmark/provenance"
	"yearmark/schema"
)

// later is the reference with one record written otherwise, or without it
// where nothing is left of its text.
func later(t *testing.T, ref *schema.Reference, r schema.Record, text []byte) *schema.Reference {
	t.Helper()
	records := slices.DeleteFunc(ref.Records(), func(other schema.Record) bool { return other == r })
	if text != nil {
		now, _ := schema.ReadRecord(r.Header().File, text)
		if now == nil {
			t.Fatalf("%s cannot be read:\n%s", r.Header().File, text)
		}
		records = append(records, now)
	}
	next, _ := schema.Assemble(ref.Folder, ref.Settings, records, ref.Pictures)
	return next
}

// TestASuccessionMakesTheEnginesOfNew writes at the demonstration and holds the
// engine of every state against one made anew, figure by figure.
func TestASuccessionMakesTheEnginesOfNew(t *testing.T) {
	ref, _, err := schema.Read("../content")
	if err != nil {
		t.Fatal(err)
	}
	edits := []func([]byte) []byte{
		func(b []byte) []byte { return append(bytes.Clone(b), "\nMore was said.\n"...) },
		func(b []byte) []byte { return bytes.Replace(b, []byte("span: 196"), []byte("span: 195"), 1) },
		func(b []byte) []byte { return bytes.ReplaceAll(b, []byte("span: 196"), []byte("span: 197")) },
		func(b []byte) []byte { return bytes.Replace(b, []byte("held: "), []byte("held: loose # "), 1) },
		func(b []byte) []byte {
			return bytes.Replace(b, []byte("kind: price-list"), []byte("kind: recollection"), 1)
		},
		func([]byte) []byte { return nil },
	}
	random := rand.New(rand.NewPCG(4, 9))
	s, shared := &dating.Succession{}, 0
	var last *dating.Engine
	for n := range 40 {
		if n > 0 {
			records := ref.Records()
			r := records[random.IntN(len(records))]
			ref = later(t, ref, r, edits[random.IntN(len(edits))](r.Header().Source))
		}
		times, weights := chronology.Build(ref), provenance.Weigh(ref)
		got, want := s.Engine(ref, times, weights), dating.New(ref, times, weights)
		if !reflect.DeepEqual(got.Table(), want.Table()) {
			t.Fatalf("after edit %d the table is not that of an engine made anew", n)
		}
		for f := range want.Features() {
			if a, b := &got.Features()[f], &want.Features()[f]; a.ID != b.ID || a.Record != b.Record || !reflect.DeepEqual(a.Domain, b.Domain) {
				t.Fatalf("after edit %d the feature %s is not that of an engine made anew", n, b.ID)
			}
			for m := range want.Table().Models {
				if !slices.EqualFunc(got.Voices(m, f), want.Voices(m, f), dating.Voice.Same) {
					t.Fatalf("after edit %d voices on %s differ", n, want.Features()[f].ID)
				}
			}
			if last != nil && f < len(last.Table().Features) {
				if a, b := got.Table().Features[f].RowOf, last.Table().Features[f].RowOf; len(a) > 0 && len(b) > 0 && &a[0] == &b[0] {
					shared++
				}
			}
		}
		last = got
	}
	if shared == 0 {
		t.Error("nothing is ever taken over from the engine before")
	}
}
