package dating_test

import (
	"bytes"
	"maps"
	"math/rand/v2"
	"reflect"
	"regexp"
	"slices"
	"testing"
	"testing/fstest"

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

// anyKind is the kind of a source that is not recalled.
var anyKind = regexp.MustCompile(`(?m)^kind: (price-list|catalogue|letter|advertisement|factory-paper|book)$`)

// TestASuccessionMakesTheEnginesOfNew writes at the demonstration and holds the
// engine of every state, from years and standings that are renewed, against one
// for which all is made anew, figure by figure.
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
			return anyKind.ReplaceAll(b, []byte("kind: recollection"))
		},
		func([]byte) []byte { return nil },
	}
	random := rand.New(rand.NewPCG(4, 9))
	s, shared := &dating.Succession{}, 0
	var last *dating.Engine
	renewed, reweighed := chronology.Build(ref), provenance.Weigh(ref)
	whole := ref
	for n := range 400 {
		if n%40 == 0 {
			ref, _ = schema.Assemble(whole.Folder, whole.Settings, whole.Records(), whole.Pictures)
		} else {
			records := ref.Records()
			r := records[random.IntN(len(records))]
			text := edits[random.IntN(len(edits))](r.Header().Source)
			if now, _ := schema.ReadRecord(r.Header().File, text); now == nil && text != nil {
				continue // edited so often that it cannot be read
			}
			ref = later(t, ref, r, text)
		}
		if n%9 == 8 {
			settings := ref.Settings
			settings.Judgement.Looseness = maps.Clone(settings.Judgement.Looseness)
			settings.Judgement.Looseness["loose"] = schema.Number{Value: float64(n) / 100}
			ref, _ = schema.Assemble(ref.Folder, settings, ref.Records(), ref.Pictures)
		}
		renewed, reweighed = renewed.Renew(ref), reweighed.Renew(ref)
		got, want := s.Engine(ref, renewed, reweighed), dating.New(ref, chronology.Build(ref), provenance.Weigh(ref))
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

// TestASuccessionHearsOfSourcesBehindSources changes how far a source is
// believed that no claim cites, but on which one that is cited relies.
func TestASuccessionHearsOfSourcesBehindSources(t *testing.T) {
	folder := fstest.MapFS{}
	for name, text := range map[string]string{
		"reference.yaml":    "name: Two\nyears: 1950/1980\n",
		"makers/works.md":   "---\nrecord: maker\nname: The Works\n---\n",
		"sources/book.md":   "---\nrecord: source\nname: Book\nkind: book\nrelies-on: [list]\n---\n",
		"sources/list.md":   "---\nrecord: source\nname: List\nkind: price-list\n---\n",
		"features/riser.md": "---\nrecord: feature\nname: Riser\nkind: choice\nvalues: [{id: ash}, {id: elm}]\n---\n",
		"models/teal.md":    "---\nrecord: model\nname: Teal\nmaker: works\nmade: {span: 1960/1965, cites: [book]}\nfeatures:\n  - {feature: riser, value: ash, span: 1960/1962, cites: [book]}\n---\n",
	} {
		folder[name] = &fstest.MapFile{Data: []byte(text), Mode: 0o644}
	}
	ref, problems, err := schema.ReadFS(folder, "two")
	if err != nil || len(problems) > 0 {
		t.Fatal(problems, err)
	}
	times, weights := chronology.Build(ref), provenance.Weigh(ref)
	s := &dating.Succession{}
	before := s.Engine(ref, times, weights).Voices(0, 0)[0]
	list, _ := ref.Sources.Get("list")
	ref = later(t, ref, list, bytes.Replace(list.Header().Source, []byte("price-list"), []byte("recollection"), 1))
	after := s.Engine(ref, times.Renew(ref), weights.Renew(ref)).Voices(0, 0)[0]
	want := dating.New(ref, chronology.Build(ref), provenance.Weigh(ref)).Voices(0, 0)[0]
	if !after.Same(want) || after.Credence == before.Credence {
		t.Errorf("the claim is believed as %v, then as %v, want %v", before.Credence, after.Credence, want.Credence)
	}
}
