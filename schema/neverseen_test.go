package schema

import (
	"strings"
	"testing"
	"testing/fstest"
)

// TestWhatWasNeverSeenIsHeldToTheRecords wants each slip told once, and knows of
// which models a maker's entry speaks.
func TestWhatWasNeverSeenIsHeldToTheRecords(t *testing.T) {
	read := func(maker, model string) (*Reference, []string) {
		ref, problems, err := ReadFS(fstest.MapFS{
			"reference.yaml":     {Data: []byte("name: A\nyears: 1950/1970\n")},
			"makers/works.md":    {Data: []byte("---\nrecord: maker\nname: Works\n" + maker + "---\n")},
			"features/wood.md":   {Data: []byte("---\nrecord: feature\nname: Wood\nkind: choice\nvalues: [{id: ash, name: Ash}, {id: elm, name: Elm}]\n---\n")},
			"features/length.md": {Data: []byte("---\nrecord: feature\nname: Length\nkind: number\nunit: in\nplausible: 40..80\n---\n")},
			"features/serial.md": {Data: []byte("---\nrecord: feature\nname: Serial\nkind: text\n---\n")},
			"models/knot.md":     {Data: []byte("---\nrecord: model\nname: Knot\nmaker: works\nmade: {span: 1960, cites: [talk]}\n" + model + "---\n")},
			"models/ruff.md":     {Data: []byte("---\nrecord: model\nname: Ruff\nmaker: works\nmade: {span: 1960, cites: [talk]}\n---\n")},
			"sources/talk.md":    {Data: []byte("---\nrecord: source\nname: Talk\nkind: recollection\n---\n")},
		}, "a")
		if err != nil {
			t.Fatal(err)
		}
		var all []string
		for _, p := range problems {
			all = append(all, p.Message)
		}
		return ref, all
	}
	ref, slips := read("never-seen: [{feature: wood, value: elm, except: [ruff], cites: [talk]}]\n",
		"never-seen: [{feature: length, value: 64 in, span: 1960/1962, when: {wood: [ash, elm]}, of: 30, cites: [talk]}, {feature: serial, value: \"^[0-9]{4,}$\", of: 1, cites: [talk], against: [talk]}]\n")
	if len(slips) > 0 {
		t.Fatalf("without slips: %q", slips)
	}
	for model, want := range map[string][]string{
		"knot": {"length: never seen on bows of 1960 to 1962 where the wood is Ash or Elm, 30 bows looked at", "serial: never seen, 1 bow looked at", "wood: never seen"},
		"ruff": nil,
	} {
		m, _ := ref.Models.Get(model)
		var got []string
		for _, n := range ref.NeverSeenOn(m) {
			got = append(got, n.Feature.Value+": "+ref.NeverSeenWords(n))
		}
		if strings.Join(got, "|") != strings.Join(want, "|") {
			t.Errorf("on the %s: %q", model, got)
		}
	}
	for _, c := range []struct {
		feature, never, value string
		shown                 bool
	}{
		{"wood", "elm", "elm", true}, {"wood", "elm", "ash", false},
		{"length", "64 in", "64", true}, {"length", "64..66 in", "65 in", true}, {"length", "..50 in", "48", true}, {"length", "64 in", "63..65", false},
		{"length", "..50 in", "..48 in", false}, {"length", "64 in", "what", false},
		{"serial", "^[0-9]{4,}$", "1234", true}, {"serial", "^[0-9]{4,}$", "123", false}, {"serial", "^[0-9]{4,}$", "^[0-9]{4,}$", true}, {"serial", "(", "(", true},
	} {
		f, _ := ref.Features.Get(c.feature)
		if f.Shows(c.never, c.value) != c.shown {
			t.Errorf("%s never %s is shown by %s: %v", c.feature, c.never, c.value, !c.shown)
		}
	}
	for _, c := range [][3]string{
		{"", "never-seen: [{feature: wod, value: elm, cites: [talk]}]\n", `there is no feature "wod"`},
		{"", "never-seen: [{feature: wood, value: oak, cites: [talk]}]\n", `"oak" is not a value`},
		{"", "never-seen: [{feature: wood, value: elm}]\n", `no key "cites"`},
		{"", "never-seen: [{feature: wood, cites: [talk]}]\n", `no key "value"`},
		{"", "never-seen: [{feature: wood, value: elm, of: 0, cites: [talk]}]\n", "0"},
		{"", "never-seen: [{feature: wood, value: elm, except: [ruff], cites: [talk]}]\n", "only a maker's record can except"},
		{"", "never-seen: [{feature: wood, value: elm, when: {length: 50 lb}, cites: [talk]}]\n", "not in the unit"},
		{"", "never-seen: [{feature: wood, value: elm, cites: [talk], against: [tlak]}]\n", `"tlak"`},
		{"", "never-seen: [{feature: serial, value: \"(\", cites: [talk]}]\n", "not a pattern"},
		{"never-seen: [{feature: wood, value: elm, except: [rough], cites: [talk]}]\n", "", `there is no model "rough"`},
	} {
		if _, got := read(c[0], c[1]); len(got) != 1 || !strings.Contains(got[0], c[2]) {
			t.Errorf("%q: %q, not %q", c[0]+c[1], got, c[2])
		}
	}
}
