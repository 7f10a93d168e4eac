package chronology

import (
	"testing"

	"yearmark/schema"
)

func TestInSentence(t *testing.T) {
	n := &names{proper: map[string]bool{}}
	n.keep("Halvane Archery")
	n.keep("Plover Mk. II")
	for name, want := range map[string]string{
		"Oval mark":      "oval mark",
		"Halvane oval":   "Halvane oval",
		"Halvane's oval": "Halvane's oval",
		"Plover":         "Plover",
		"GRP":            "GRP",
		"H-24":           "H-24",
		"H":              "H",
		"Écru glass":     "écru glass",
		"no. 3":          "no. 3",
		"":               "",
	} {
		if got := n.inSentence(name); got != want {
			t.Errorf("%q stands as %q, want %q", name, got, want)
		}
	}
}

func TestClaimNames(t *testing.T) {
	ref := records(t,
		file{"features/number.md", "---\nrecord: feature\nname: Model number\nkind: text\n---\n"},
		file{"features/bolts.md", "---\nrecord: feature\nname: Limb bolts\nkind: presence\n---\n"},
		file{"features/overlay.md", "---\nrecord: feature\nname: Overlay\nkind: presence\n---\n"},
		file{"features/grip.md", "---\nrecord: feature\nname: Grip\nkind: choice\nvalues: [{id: round, name: \"Rounded, with a rest for the thumb\"}, {id: plain}]\n---\n"},
		model("plover", `made: {span: 1958/1971}
eras: [{id: second, name: Second pattern, span: 1964/1967}]
features:
  - {feature: mark, value: oval, span: 1964}
  - {feature: riser-wood, value: padauk, span: 1964}
  - {feature: number, value: H-24, span: 1964}
  - {feature: socket, value: absent, span: 1964}
  - {feature: socket, value: present, span: 1965}
  - {feature: bolts, value: absent, span: 1964}
  - {feature: overlay, value: absent, span: 1964}
  - {feature: grip, value: round, span: 1964}
  - {feature: grip, value: plain, span: 1964}
specs: [{spec: draw-weight, range: 30..55 lb, span: 1964}]
`))
	plover, _ := ref.Models.Get("plover")
	n := newNames(ref)
	want := []string{
		"the Plover", "the second pattern", "the oval mark", "the padauk riser wood", `the model number "H-24"`,
		"the lack of a stabiliser socket", "the stabiliser socket", "the lack of limb bolts", "the lack of an overlay",
		`the grip "Rounded, with a rest for the thumb"`, "the plain grip", "the draw weight (30–55 lb)",
	}
	claims := plover.Claims()
	if len(claims) != len(want) {
		t.Fatalf("%d claims, want %d", len(claims), len(want))
	}
	for i, c := range claims {
		if got := n.claim(c); got != want[i] {
			t.Errorf("%s is called %q, want %q", c.Key(), got, want[i])
		}
	}
	if got := n.of(claims[2]); got != "the oval mark of the Plover" {
		t.Errorf("among several models it is called %q", got)
	}
	maker, _ := ref.Makers.Get("halvane")
	owner := &schema.Claim{About: schema.AboutOwner, Maker: maker, Name: schema.Text{Value: "Ann Aldous"}}
	if got := n.claim(owner); got != "the time of Ann Aldous at Halvane Archery" {
		t.Errorf("an owner is called %q", got)
	}
	if got := n.claim(&schema.Claim{About: schema.AboutFeature, ID: schema.Text{Value: "c1"}, Feature: schema.Text{Value: "gone"}}); got != `the claim "c1"` {
		t.Errorf("a claim about no feature is called %q", got)
	}
}
