package sheets

import (
	"maps"
	"strings"
	"testing"
)

// TestOldTables takes in a table that was written before the records were
// changed: rows that nobody touched undo nothing, rows changed on both sides
// are refused, and other rows count.
func TestOldTables(t *testing.T) {
	files := register(t)
	now := maps.Clone(files)
	now["sources/list-1955.md"] = strings.Replace(files["sources/list-1955.md"], "kept: Box 1", "kept: Box 9", 1)
	now["models/wren.md"] = strings.Replace(files["models/wren.md"], "span: 1958/1959", "span: 1958/1960", 1)
	now["examples/0007.md"] = strings.Replace(files["examples/0007.md"], "value: ash", "value: oak", 1)

	p, err := Prepare(load(t, now), "t.csv", changed(t, files, "sources\nset letter-1990 kept \"Box 3\""))
	if err != nil || len(p.Changes) != 1 || p.Changes[0].File != "sources/letter-1990.md" || p.Edited != 1 || p.Same != 2 {
		t.Errorf("%+v, %v", p, err)
	}
	want := `row 3 is left: the source "list-1955" was changed in the records after the table was written`
	if err == nil && (len(p.Notes) != 1 || p.Notes[0] != want) {
		t.Errorf("notes %q, want %q", p.Notes, want)
	}
	for orders, message := range map[string]string{
		"sources\nset list-1955 kept \"Box 3\"":   `row 3, column "checksum": the source "list-1955" was changed in the records after the table was written, and the row says something else again`,
		"claims\nset wren/made span 1957/1959":    `column "checksum": the claim "wren/made" was changed in the records`,
		"examples\nset 0007 riser-wood elm":       `column "checksum": the example "0007" was changed in the records`,
		"examples\nset 0007 by \"R. Tarn again\"": `column "checksum": the example "0007" was changed in the records`,
	} {
		if _, err := Prepare(load(t, now), "t.csv", changed(t, files, orders)); err == nil || !strings.Contains(err.Error(), message) {
			t.Errorf("%q: want %q, got %v", orders, message, err)
		}
	}
	both := "examples\nset 0007 riser-wood oak\nset 0008 riser-wood oak"
	if p, err := Prepare(load(t, now), "t.csv", changed(t, files, both)); err != nil || p.Edited != 1 || len(p.Changes) != 1 {
		t.Errorf("a row changed to what the record says by now: %+v, %v", p, err)
	}
}

// TestRowsWithoutAChecksumCount takes hand-made tables in.
func TestRowsWithoutAChecksumCount(t *testing.T) {
	for data, want := range map[string]string{
		"claim,span\nwren/made,1957/1959\n":                                  `span: 1957/1959`,
		"source,kept\nlist-1955,Box 2\n":                                     `kept: Box 2   # top shelf`,
		"example,riser-wood\n7,elm\n":                                        `{feature: riser-wood, value: elm}`,
		"example,riser-wood,# price\n0008,elm,a ham\n":                       `observed: [{feature: riser-wood, value: elm}]`,
		"\ufeffsource;name;kind\r\nnew-one;A; book\r\n":                      "record: source\nname: A\nkind: book\n",
		"example,model,feature:riser-wood note,riser-wood\n,wren,dark,oak\n": `{feature: riser-wood, value: oak, note: dark}`,
	} {
		p, err := Prepare(load(t, register(t)), "t.csv", []byte(data))
		if err != nil || len(p.Changes) != 1 || !strings.Contains(string(p.Changes[0].After), want) {
			t.Errorf("%q: %+v, %v", data, p, err)
		}
	}
}
