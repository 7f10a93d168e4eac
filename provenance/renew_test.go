package provenance

import (
	"fmt"
	"maps"
	"reflect"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"yearmark/schema"
)

// shelfOf is a reference whose records are replaced one at a time.
type shelfOf struct {
	settings schema.Settings
	records  map[string]schema.Record
}

func (s *shelfOf) put(t *rapid.T, file, text string) {
	r, problems := schema.ReadRecord(file, []byte("---\n"+text+"\n---\n"))
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	s.records[file] = r
}

func (s *shelfOf) reference() *schema.Reference {
	var list []schema.Record
	for _, file := range slices.Sorted(maps.Keys(s.records)) {
		list = append(list, s.records[file])
	}
	ref, _ := schema.Assemble("shelf", s.settings, list, nil)
	return ref
}

// change draws one edit: a source's kind, name or reliance, a model's
// citations, an example, the editor's judgement, a record that goes.
func (s *shelfOf) change(t *rapid.T) {
	ids := []string{"s0", "s1", "s2", "s3"}
	pick := rapid.SliceOfNDistinct(rapid.SampledFrom(append(ids, "example-0007")), 0, 3, rapid.ID)
	switch rapid.IntRange(0, 5).Draw(t, "what") {
	case 0, 1:
		id, kind := rapid.SampledFrom(ids).Draw(t, "source"), rapid.SampledFrom([]string{"letter", "web"}).Draw(t, "kind")
		name := rapid.SampledFrom([]string{"One", "Two"}).Draw(t, "name")
		s.put(t, "sources/"+id+".md", fmt.Sprintf("record: source\nname: %s\nkind: %s\nrelies-on: %s", name, kind, list(pick.Draw(t, "relies on"))))
	case 2, 3:
		id := rapid.SampledFrom([]string{"m0", "m1"}).Draw(t, "model")
		text := "record: model\nname: M\nmaker: k\nmade: {span: 1950/1970, cites: [s0]}\nfeatures:\n"
		for i := range rapid.IntRange(1, 3).Draw(t, "claims") {
			text += fmt.Sprintf("  - {id: c%d, feature: f, value: v, span: 1960, cites: %s, against: %s}\n", i, list(slices.Compact(append(pick.Draw(t, "for"), "s0"))), list(pick.Draw(t, "against")))
		}
		s.put(t, "models/"+id+".md", text)
	case 4:
		s.put(t, "examples/0007.md", "record: example\nmodel: m0\nby: "+rapid.SampledFrom([]string{"Ann", "Ben"}).Draw(t, "by"))
	case 5:
		delete(s.records, rapid.SampledFrom([]string{"models/m1.md", "sources/s2.md", "examples/0007.md"}).Draw(t, "goes"))
		s.settings.Judgement.Credence[schema.Web] = schema.Number{Value: rapid.SampledFrom([]float64{.6, .5}).Draw(t, "credence")}
	}
}

func list(ids []string) string {
	text := "["
	for i, id := range ids {
		if i > 0 {
			text += ", "
		}
		text += id
	}
	return text + "]"
}

func TestRenewIsWeigh(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		s := &shelfOf{schema.Settings{Judgement: schema.DefaultJudgement()}, map[string]schema.Record{}}
		w := Weigh(s.reference())
		for range rapid.IntRange(1, 12).Draw(r, "edits") {
			s.change(r)
			ref := s.reference()
			w = w.Renew(ref)
			want := Weigh(ref)
			for c := range claims(ref) {
				if got := w.Of(c); !reflect.DeepEqual(got, want.Of(c)) {
					r.Fatalf("%s: %+v, weighed anew %+v", c.Key(), got, want.Of(c))
				}
			}
			if !reflect.DeepEqual(w.Rings(), want.Rings()) {
				r.Fatalf("rings %v, weighed anew %v", w.Rings(), want.Rings())
			}
			for _, x := range ref.Sources.All() {
				if !reflect.DeepEqual(w.Origins(x.ID), want.Origins(x.ID)) || !reflect.DeepEqual(w.RestsOn(x.ID), want.RestsOn(x.ID)) {
					r.Fatalf("%s: origins %v, weighed anew %v", x.ID, w.Origins(x.ID), want.Origins(x.ID))
				}
			}
		}
	})
}
