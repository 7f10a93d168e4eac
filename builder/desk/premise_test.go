package desk

import (
	"testing"
	"testing/fstest"

	"yearmark/schema"
)

// TestConditionsInWords writes conditions as people say them, and reads those of
// a record out in words that come back to the letter.
func TestConditionsInWords(t *testing.T) {
	folder := fstest.MapFS{"reference.yaml": {Data: []byte("name: R\nyears: 1930/1985\n")}}
	for name, keys := range map[string]string{
		"draw-weight-offered": "name: Draw weight offered\nkind: number\nunit: lb\nplausible: 10..120",
		"riser-wood":          "name: Riser wood\nkind: choice\nvalues: [{id: walnut, name: Walnut, also: [Black walnut]}, {id: beech, name: Beech}]",
		"socket":              "name: Socket\nkind: presence",
		"serial":              "name: Serial\nkind: text",
	} {
		folder["features/"+name+".md"] = &fstest.MapFile{Data: []byte("---\nrecord: feature\n" + keys + "\n---\n")}
	}
	ref, problems, err := schema.ReadFS(folder, "r")
	if err != nil || len(problems) > 0 {
		t.Fatal(err, problems)
	}
	for _, c := range []struct{ said, written, words string }{
		{"Draw weight offered: up to 39 lb", "draw-weight-offered: ..39 lb", "Draw weight offered: up to 39 lb"},
		{"draw weight offered: 39 lb or less", "draw-weight-offered: ..39 lb", "Draw weight offered: up to 39 lb"},
		{"Draw weight offered: from 40 lb", "draw-weight-offered: 40.. lb", "Draw weight offered: 40 lb or more"},
		{"Draw weight offered: at least 40 lb", "draw-weight-offered: 40.. lb", "Draw weight offered: 40 lb or more"},
		{"Draw weight offered: 30 to 39 lb", "draw-weight-offered: 30..39 lb", "Draw weight offered: 30 to 39 lb"},
		{"Draw weight offered: 30-39 lb", "draw-weight-offered: 30..39 lb", "Draw weight offered: 30 to 39 lb"},
		{"draw-weight-offered: ..7 1/4 lb", "draw-weight-offered: ..7 1/4 lb", "Draw weight offered: ..7 1/4 lb"},
		{"Riser wood: Walnut", "riser-wood: walnut", "Riser wood: Walnut"},
		{"Riser wood: black walnut or beech", "riser-wood: [walnut, beech]", "Riser wood: Walnut or Beech"},
		{"Riser wood: Walnut, Beech or something else", "riser-wood: [walnut, beech, something-else]", "Riser wood: Walnut, Beech or something else"},
		{"Riser wood: elm or beech", "riser-wood: elm or beech", "Riser wood: elm or beech"}, // the check says that there is no elm
		{"socket: absent", "socket: absent", "Socket: absent"},
		{"Serial: ^A or B", "serial: ^A or B", "Serial: ^A or B"},
		{"Nothing known: 3", "Nothing known: 3", "Nothing known: 3"},
	} {
		if got := premisesOf(c.said, ref); got != c.written {
			t.Errorf("%q is written as %q, want %q", c.said, got, c.written)
		}
		if got := premiseWords(c.written, ref); got != c.words {
			t.Errorf("%q reads %q, want %q", c.written, got, c.words)
		}
		if got := premisesOf(premiseWords(c.written, ref), ref); got != c.written {
			t.Errorf("%q comes back as %q", c.written, got)
		}
	}
}
