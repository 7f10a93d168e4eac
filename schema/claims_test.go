package schema

import (
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

func model(t *testing.T, text string) *Model {
	t.Helper()
	r, problems := ReadRecord("models/a.md", []byte("---\nrecord: model\nname: A\nmaker: m\nmade: {span: 1960}\n"+text+"---\n"))
	if len(problems) > 0 {
		t.Fatal(list(problems))
	}
	return r.(*Model)
}

func anchors(m *Model) []string {
	var all []string
	for _, c := range m.Claims() {
		all = append(all, c.Anchor())
	}
	return all
}

func TestMadeIdentifiers(t *testing.T) {
	m := model(t, `eras:
  - {id: second, span: 1960}
  - {name: The third pattern, span: 1960}
  - {span: 1960}
features:
  - {feature: riser-wood, value: padauk, span: 1960}
  - {feature: riser-wood, value: padauk, span: 1961}
  - {id: riser-wood-padauk-3, feature: riser-wood, value: padauk, span: 1962}
  - {feature: riser-wood, value: padauk, span: 1963}
  - {feature: serial, value: '^[A-F]\d{4}$', span: 1963}
  - {feature: serial, value: '().*', span: 1963}
  - {feature: made, value: "", span: 1963}
specs:
  - {spec: draw-weight, range: 1..2, span: 1960}
  - {spec: draw-weight, range: 1..2, span: 1961}
withdrawn:
  - {id: draw-weight, because: it was wrong}
`)
	want := []string{
		"made", "era-second", "era-the-third-pattern", "era-era",
		"riser-wood-padauk", "riser-wood-padauk-2", "riser-wood-padauk-3", "riser-wood-padauk-4",
		"serial-a-f-d-4", "serial", "made-2", "draw-weight-2", "draw-weight-3",
	}
	if diff := cmp.Diff(want, anchors(m)); diff != "" {
		t.Error(diff)
	}
	for _, c := range m.Features {
		if own := !c.ID.Pos.IsZero(); own != (c.ID.Value == "riser-wood-padauk-3") {
			t.Errorf("%s: place %v", c.ID.Value, c.ID.Pos)
		}
	}
}

// TestMadeIdentifiersStay: what stands after a claim, or has another name,
// does not change its identifier; giving it as id changes nothing either.
func TestMadeIdentifiersStay(t *testing.T) {
	one := "  - {feature: riser-wood, value: padauk, span: 1960}\n"
	other := "  - {feature: riser-wood, value: walnut, span: 1960}\n"
	long := "  - {feature: " + strings.Repeat("x", 120) + ", value: y, span: 1960}\n"
	before := anchors(model(t, "features:\n"+one+one))
	after := anchors(model(t, "features:\n"+other+one+one+other+one))
	if !slices.Equal(before[1:], after[2:4]) {
		t.Errorf("%v became %v", before, after)
	}
	given := anchors(model(t, "features:\n"+one+"  - {id: riser-wood-padauk-2, feature: riser-wood, value: padauk, span: 1960}\n"))
	if !slices.Equal(before, given) {
		t.Errorf("%v became %v", before, given)
	}
	for _, id := range anchors(model(t, "features:\n"+long+long)) {
		if !isIdentifier(id) {
			t.Errorf("%q is no identifier", id)
		}
	}
}

func TestAttestations(t *testing.T) {
	m := model(t, `features:
  - {feature: f, value: v, attested: [1964, {year: 1966, cites: [b]}], cites: [a]}
  - {feature: f, value: w, attested: 1965, cites: "a, p. 2"}
`)
	c := m.Features[0]
	if len(c.Attested) != 2 || c.Attested[0].Year.Value != 1964 || c.Attested[1].Year.Value != 1966 {
		t.Fatalf("%+v", c.Attested)
	}
	if !c.Attested[0].Bare || c.Attested[0].Cites[0].Source != "a" || c.Attested[1].Bare || c.Attested[1].Cites[0].Source != "b" {
		t.Errorf("%+v", c.Attested)
	}
	if got := c.Citations(); len(got) != 2 || got[0].Source != "a" || got[1].Source != "b" {
		t.Errorf("citations %v: the claim's own are to be counted once", got)
	}
	if got := m.Features[1].Citations(); len(got) != 1 || got[0].Place != "p. 2" {
		t.Errorf("citations %v", got)
	}
}

func TestClaimsKnowWhatTheyAreAbout(t *testing.T) {
	m := model(t, "eras: [{id: e, span: 1960}]\nfeatures: [{feature: f, value: v, span: 1960}]\nspecs: [{spec: s, range: 1, span: 1960}]\n")
	var about []About
	for _, c := range m.Claims() {
		about = append(about, c.About)
		if c.Model != m || c.Maker != nil || c.Pos.IsZero() {
			t.Errorf("%s: model %v, maker %v, place %v", c.ID.Value, c.Model, c.Maker, c.Pos)
		}
	}
	if !slices.Equal(about, []About{AboutMade, AboutEra, AboutFeature, AboutSpec}) {
		t.Error(about)
	}
	r, problems := ReadRecord("makers/m.md", []byte("---\nrecord: maker\nname: M\ntrading: {span: 1950}\nowners: [{name: Tom Airey, span: 1950}, {id: ann, name: Ann, span: 1951}]\n---\n"))
	if len(problems) > 0 {
		t.Fatal(list(problems))
	}
	var keys []string
	for _, c := range r.(*Maker).Claims() {
		keys = append(keys, c.Key())
	}
	if want := []string{"makers/m/trading", "makers/m/owner-tom-airey", "makers/m/ann"}; !slices.Equal(keys, want) {
		t.Error(keys)
	}
}

func TestSpecsWithoutUnitTakeTheFeatures(t *testing.T) {
	f, _ := ReadRecord("features/f.md", []byte("---\nrecord: feature\nname: F\nkind: number\nunit: lb\nplausible: 1..9\n---\n"))
	m, _ := ReadRecord("models/a.md", []byte("---\nrecord: model\nname: A\nmaker: m\nmade: {span: 1960}\nspecs: [{spec: f, range: 3..4, span: 1960}]\n---\n"))
	_, problems := Assemble("x", Settings{}, []Record{f, m}, Media{})
	if len(problems) != 1 || problems[0].Check != CheckDangling {
		t.Error(list(problems))
	}
	if got := m.(*Model).Specs[0].Range; got.Unit != Pound || got.Low != 3 || got.High != 4 {
		t.Errorf("%+v", got)
	}
}
