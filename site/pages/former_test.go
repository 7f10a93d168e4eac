package pages_test

import (
	"bytes"
	"regexp"
	"strings"
	"testing"
)

// addressed matches the identifiers under which others link to claims, values
// and places.
var addressed = regexp.MustCompile(` id="((?:at[-_]|value-)[^"]*|made|oak-riser|every-limb)"`)

// TestAFormerAddressLeadsOn: whatever could be linked to on a page that has moved
// has its address on the page left behind, which leads to it.
func TestAFormerAddressLeadsOn(t *testing.T) {
	site := small(t, map[string]string{
		"makers/m.md":      "---\nrecord: maker\nname: M\nformerly: [old]\nfeatures:\n  - {id: every-limb, feature: wood, value: elm, span: \"1960\", cites: [\"s, p. 4\"]}\n---\n",
		"models/a.md":      "---\nrecord: model\nname: A\nmaker: m\nformerly: [old]\nmade: {span: \"1960\", cites: [\"s, p. 1\", example-e]}\nfeatures:\n  - {id: oak-riser, feature: wood, value: oak, span: \"1960\", cites: [s], against: [\"s, p. 2\"]}\n---\n",
		"features/wood.md": "---\nrecord: feature\nname: Wood\nkind: choice\nask: Which?\nformerly: [old]\nvalues:\n  - {id: oak, name: Oak}\n  - {id: elm, name: Elm}\n---\n",
		"sources/s.md":     "---\nrecord: source\nname: S\nkind: book\nshown: words\nformerly: [old]\nplaces:\n  - {at: p. 9, says: Words}\n---\n",
		"examples/e.md":    "---\nrecord: example\nname: E\nmodel: a\nseen: \"2020\"\nformerly: [old]\ndocumented: {span: \"1960\", cites: [\"s, p. 3\"]}\n---\n",
	})
	for folder, want := range map[string]int{"makers/m": 1, "models/a": 2, "features/wood": 2, "sources/s": 6, "examples/e": 1} {
		now, err := site.Render(folder + ".html")
		if err != nil {
			t.Fatal(err)
		}
		kind, id, _ := strings.Cut(folder, "/")
		before, err := site.Render(kind + "/old.html")
		if err != nil {
			t.Fatal(err)
		}
		found := addressed.FindAllSubmatch(now, -1)
		if len(found) != want {
			t.Errorf("%s.html has %d addresses, want %d", folder, len(found), want)
		}
		for _, m := range found {
			if on := `<li id="` + string(m[1]) + `"><a href="../` + kind + "/" + id + ".html#" + string(m[1]) + `">`; !bytes.Contains(before, []byte(on)) {
				t.Errorf("%s/old.html does not lead on from #%s", kind, m[1])
			}
		}
		for _, m := range addressed.FindAllSubmatch(before, -1) {
			if !bytes.Contains(now, m[0]) {
				t.Errorf("%s/old.html leads on to #%s, which is not there", kind, m[1])
			}
		}
	}
}
