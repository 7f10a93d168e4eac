package sheets

import (
	"bytes"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"yearmark/exchange/sheets/csl"
)

// TestSourcesByWayOfCSL takes a register's sources into one that has none: they
// say what they said.
func TestSourcesByWayOfCSL(t *testing.T) {
	files := register(t)
	var out bytes.Buffer
	if err := csl.Write(&out, load(t, files)); err != nil {
		t.Fatal(err)
	}
	data := out.Bytes()
	p, err := PrepareCSL(load(t, files), "library.json", data)
	if err != nil || len(p.Changes) != 0 || p.Same != 3 || len(p.Notes) != 3 {
		t.Fatalf("taken into itself: %+v, %v", p, err)
	}
	empty := map[string]string{"reference.yaml": files["reference.yaml"]}
	p, err = PrepareCSL(load(t, empty), "library.json", data)
	if err != nil || p.Added != 3 || len(p.Notes) != 0 {
		t.Fatalf("taken into an empty register: %+v, %v", p, err)
	}
	got, want := cells(t, after(empty, p)), map[string]string{}
	for k, v := range cells(t, files) {
		if strings.HasPrefix(k, "sources ") {
			want[k] = v
		}
	}
	if d := cmp.Diff(want, got); d != "" {
		t.Error(d)
	}
}

func TestItemsThatCannotBeTaken(t *testing.T) {
	files := register(t)
	for data, want := range map[string]string{
		`[{"id":"a","type":"dataset","title":"x"}]`:                                                         `library.json:1: item 1 "a": the type "dataset" does not tell`,
		`[{"id":"a","type":"book","title":"x"},{"id":"A","type":"book","title":"y"}]`:                       `item 2 "A": its name "a" is that of item 1`,
		`[{"id":"aux","type":"book","title":"x"}]`:                                                          `item 1 "aux": the file name "aux" is reserved`,
		`[{"id":"a","type":"book","title":"x","URL":"javascript:alert(1)"}]`:                                `in sources/a.md, made of the item: "javascript:alert(1)" is not an address`,
		`[{"id":"a","type":"book","title":"x","custom":{"yearmark":{"kind":"scroll"}}}]`:                    `"scroll" is not a value of "kind"`,
		`[{"id":"a","type":"book","title":"x","custom":{"yearmark":{"kind":"book","relies-on":["none"]}}}]`: `there is no source "none"`,
		"[{\"id\":\"a\",\n\"type\":\"book\",\"title\":\"x\u200b\"}]":                                        "an invisible character",
		`{`: "library.json: line 1: CSL-JSON begins with [",
	} {
		if p, err := PrepareCSL(load(t, files), "library.json", []byte(data)); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%s: want %q, got %v, %v", data, want, p, err)
		}
	}
}
