package provenance

import (
	"fmt"
	"reflect"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"yearmark/schema"
	"yearmark/testdata/need"
)

// sameWithout holds Without against the weighing made anew, over everything
// that can be asked of them.
func sameWithout(t *testing.T, w *Weighing, skip func(schema.Citation) bool, among ...string) {
	t.Helper()
	got, want := w.Without(skip, among...), WeighWithout(w.ref, skip)
	touched, plain := got.Touched(among...), w.Without(nil)
	for c := range w.ref.Claims() {
		if a, b := got.Of(c), want.Of(c); !reflect.DeepEqual(a, b) {
			t.Fatalf("%s without %v: %+v, made anew %+v", c.Key(), among, a, b)
		}
		if !slices.Contains(touched, c) && !reflect.DeepEqual(got.Of(c), plain.Of(c)) {
			t.Fatalf("%s without %v differs and is not said to be touched", c.Key(), among)
		}
	}
	if a, b := got.Rings(), want.Rings(); !reflect.DeepEqual(a, b) {
		t.Fatalf("without %v the rings are %v, made anew %v", among, a, b)
	}
	for _, s := range w.ref.Sources.All() {
		if a, b := got.Origins(s.ID), want.Origins(s.ID); !reflect.DeepEqual(a, b) {
			t.Fatalf("the origins of %s without %v are %v, made anew %v", s.ID, among, a, b)
		}
	}
}

// citing gives a function that is true for citations of one of the sources.
func citing(among []string) func(schema.Citation) bool {
	return func(c schema.Citation) bool { return slices.Contains(among, c.Source) }
}

func TestWithoutIsWeighWithout(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		l := drawLibrary(r)
		l.sources["copy"] = "kind: article\nrelies-on: [example-0007, s0]\nplaces:\n  - {at: p. 1, own: true}\n  - {at: p. 2, relies-on: [example-0007]}\n  - {at: p. 3, relies-on: [s0]}"
		text := "span: 1965, cites: [" + rapid.SampledFrom([]string{"copy", `"copy, p. 1"`, `"copy, pp. 2-3"`, "example-0007", "s0"}).Draw(r, "one") + "], against: [s0]"
		more := "attested: [{year: 1964, cites: [example-0007]}, {year: 1966, cites: [copy]}]"
		b := book{sources: l.sources, claims: []string{text, more}}
		for _, id := range l.cites {
			b.claims = append(b.claims, "span: 1966, cites: ["+id+", copy]")
		}
		w := Weigh(b.reference(t))
		among := append(rapid.SliceOfNDistinct(rapid.SampledFrom(l.cites), 0, 2, rapid.ID).Draw(r, "left out"), "example-0007")
		sameWithout(t, w, citing(among), among...)
		sameWithout(t, w, citing(among))
		sameWithout(t, w.Without(citing(among)), citing(among[:1]), among[0])
	})
}

// TestWithoutAnExample leaves every example of the demonstration out, and the
// papers that give its year.
func TestWithoutAnExample(t *testing.T) {
	ref, _, err := schema.Read(need.Root(t) + "/content")
	if err != nil {
		t.Fatal(err)
	}
	w, touched := Weigh(ref), 0
	for _, ex := range ref.Examples.All() {
		among := []string{"example-" + ex.ID}
		if ex.Documented != nil {
			for _, by := range ex.Documented.Cites {
				among = append(among, by.Source)
			}
		}
		skip := citing(among)
		sameWithout(t, w, skip, among...)
		touched += len(w.Without(skip, among...).Touched(among...))
	}
	if touched == 0 {
		t.Error("no claim of the demonstration rests on an example")
	}
}

func TestWithoutNothingIsTheSame(t *testing.T) {
	w := Weigh(book{sources: map[string]string{"list": "kind: price-list"}, claims: []string{"span: 1965, cites: [list]"}}.reference(t))
	skip := citing([]string{"list"})
	if w.Without(nil) != w || w.Without(skip).Without(nil) != w || w.Touched() != nil {
		t.Error("nothing was left out and yet it is another weighing")
	}
	if got := fmt.Sprint(WeighWithout(w.ref, skip).Without(nil).Of(claim(t, w.ref, "c0")).For.Witnesses); got != "1" {
		t.Errorf("%s witnesses once nothing is left out, want 1", got)
	}
}
