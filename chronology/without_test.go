package chronology

import (
	"fmt"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"

	"yearmark/schema"
	"yearmark/schema/edtf"
	"yearmark/testdata/need"
)

var exampleSeven = file{"examples/0007.md", `---
record: example
model: plover
seen: 2026-03-14
observed: [{feature: mark, value: oval}]
---
`}

// leaning is a model some of whose claims rest on an example, and another
// model of another maker that does not.
func leaning(t *testing.T) *schema.Reference {
	return records(t, exampleSeven, model("plover", `made: {span: 1958/1971, cites: ["list-1958, p. 2"]}
features:
  - {id: only-example, feature: mark, value: script, span: 1966/1968, cites: [example-0007]}
  - {id: span-example, feature: mark, value: block, span: 1966/1968, cites: [example-0007], attested: [{year: 1967, cites: ["list-1968, p. 1"]}]}
  - {id: seen-both, feature: mark, value: oval, attested: [{year: 1960, cites: [example-0007]}, {year: 1964, cites: ["list-1964, p. 1"]}]}
  - {id: both, feature: riser-wood, value: padauk, span: 1960/1962, cites: ["list-1964, p. 1", example-0007]}
  - {id: uncited, feature: riser-wood, value: walnut, span: 1963/1964}
  - {id: after, feature: socket, value: present, attested: [{year: 1970, cites: ["list-1971, p. 1"]}]}
order:
  - {first: only-example, how: meets, second: after, cites: ["letter, p. 1"]}
  - {first: uncited, how: before, second: after, cites: [example-0007]}
`), file{"makers/other.md", "---\nrecord: maker\nname: Other Bows\n---\n"},
		file{"models/knot.md", "---\nrecord: model\nname: Knot\nmaker: other\nmade: {span: 1950/1960, cites: [\"list-1958, p. 2\"]}\n---\n"})
}

// TestWithout leaves out what rests on an example. Expectations by hand: what
// rests on it alone has no year; a span that only it gives is gone, the other
// citations' sightings stay; what others say too stays.
func TestWithout(t *testing.T) {
	ref := leaning(t)
	skip := func(c schema.Citation) bool { return c.Source == "example-0007" }
	whole := Build(ref)
	rest := whole.Without(skip)
	plover, _ := ref.Models.Get("plover")
	for id, want := range map[string][2]string{
		"only-example": {"1966 1966 1968 1968", "none"},
		"span-example": {"1966 1966 1968 1968", "1958 1967 1967 1971"},
		"seen-both":    {"1958 1960 1964 1971", "1958 1964 1964 1971"},
		"both":         {"1960 1960 1962 1962", "1960 1960 1962 1962"},
		"uncited":      {"1963 1963 1964 1964", "1963 1963 1964 1964"},
		"after":        {"1969 1969 1970 1971", "1959 1970 1970 1971"},
		"made":         {"1958 1958 1971 1971", "1958 1958 1971 1971"},
	} {
		c, _ := plover.Claim(id)
		if id == "made" {
			c = plover.Made
		}
		if got := [2]string{four(whole.Years(c)), four(rest.Years(c))}; got != want {
			t.Errorf("%s: %q, want %q", id, got, want)
		}
	}
	knot, _ := ref.Models.Get("knot")
	if g, _, _ := whole.find(knot.Made); g == nil {
		t.Error("the Knot is in no group")
	} else if h, _, _ := rest.find(knot.Made); g != h {
		t.Error("a group that cites nothing left out was worked out anew")
	}
	if diff := cmp.Diff(report(ref, BuildWithout(ref, skip), nil), report(ref, rest, nil)); diff != "" {
		t.Errorf("(-BuildWithout +Without):\n%s", diff)
	}
	if diff := cmp.Diff(report(ref, Build(ref), nil), report(ref, rest.Without(nil), nil)); diff != "" {
		t.Errorf("(-Build +Without nothing):\n%s", diff)
	}
	for _, again := range []*Timeline{whole.Without(skip, "example-0007"), whole.Without(skip, "letter", "example-0007"), rest.Without(skip, "example-0007")} {
		if diff := cmp.Diff(report(ref, rest, everything(ref)), report(ref, again, everything(ref))); diff != "" {
			t.Errorf("(-Without +Without among the sources it can be):\n%s", diff)
		}
	}
}

// TestWithoutIsBuildWithout leaves out every source and example of the
// demonstration in turn.
func TestWithoutIsBuildWithout(t *testing.T) {
	ref, _, err := schema.Read(need.Root(t) + "/content")
	if err != nil {
		t.Fatal(err)
	}
	whole, differ := Build(ref), 0
	for _, r := range ref.Records() {
		id := r.Header().ID
		switch r.(type) {
		case *schema.Example:
			id = "example-" + id
		case *schema.Source:
		default:
			continue
		}
		skip := func(c schema.Citation) bool { return c.Source == id }
		want, got := BuildWithout(ref, skip), whole.Without(skip, id)
		for _, c := range claims(ref) {
			if exact(want.Years(c)) != exact(got.Years(c)) || exact(want.Stated(c)) != exact(got.Stated(c)) {
				t.Fatalf("%s without %s: %v, built anew %v", c.Key(), id, got.Years(c), want.Years(c))
			}
			if c.Model != nil && exact(got.Years(c)) != exact(whole.Years(c)) {
				differ++
			}
		}
		if a, b := fmt.Sprint(want.Conflicts()), fmt.Sprint(got.Conflicts()); a != b {
			t.Fatalf("contradictions without %s: %s, built anew %s", id, b, a)
		}
	}
	if differ == 0 {
		t.Error("leaving out a source changed no years")
	}
}

// TestMadeUnknown: a made span that rests on what is left out, or is missing
// from a record that was not well read, is that of the maker's trading, or the horizon.
func TestMadeUnknown(t *testing.T) {
	ref := records(t, exampleSeven,
		model("plover", "made: {span: 1958/1971, cites: [example-0007]}\nfeatures:\n  - {feature: mark, value: oval, attested: [{year: 1964, cites: [\"list-1964, p. 1\"]}]}\n"))
	timeline := BuildWithout(ref, func(c schema.Citation) bool { return c.Source == "example-0007" })
	plover, _ := ref.Models.Get("plover")
	if got := four(timeline.Made(plover)); got != "1947 1947 1978 1978" {
		t.Errorf("made %s, want the trading of its maker", got)
	}
	if got := four(timeline.Years(plover.Features[0])); got != "1947 1964 1964 1978" {
		t.Errorf("oval mark %s, want the trading of its maker, and 1964 for certain", got)
	}
	stray := &schema.Model{Maker: schema.Text{Value: "nobody"}}
	if got := four(timeline.Made(stray)); got != "1930 1930 1985 1985" {
		t.Errorf("a stray model was made %s, want the horizon", got)
	}
	if c := (&schema.Claim{}); !timeline.Years(c).Empty() || !timeline.Stated(c).Empty() || timeline.Derived(c) || timeline.Why(c) != nil {
		t.Error("a claim that is not of the reference has years")
	}
}

// TestSpeaks: a contradiction says which claims it is about, orders' claims included.
func TestSpeaks(t *testing.T) {
	_, files := archive(t, "testdata/worked-example.txtar")
	ref := records(t, files[0])
	conflict := Build(ref).Conflicts()[0]
	plover, _ := ref.Models.Get("plover")
	about := slices.DeleteFunc(plover.Claims(), func(c *schema.Claim) bool { return !conflict.Speaks(c) })
	if len(about) != 2 || about[0].ID.Value != "oval-mark" || about[1].ID.Value != "script-mark" {
		t.Errorf("it speaks of %d claims, want the oval and the script mark", len(about))
	}
	if len(conflict.Related()) != 2 || conflict.Related()[1].Cites[0].Source != "list-1968" {
		t.Errorf("related %v, want the order and the list of 1968", conflict.Related())
	}
}

// exact writes all there is of years.
func exact(y edtf.Years) string { return fmt.Sprintf("%#v", y) }

// everything asks about the years of every claim.
func everything(ref *schema.Reference) (asked []string) {
	for _, c := range claims(ref) {
		asked = append(asked, "stated "+c.Key(), "years "+c.Key())
	}
	return asked
}
