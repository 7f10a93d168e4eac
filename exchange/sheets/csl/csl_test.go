package csl

import (
	"bytes"
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/santhosh-tekuri/jsonschema/v6"

	"yearmark/schema"
	"yearmark/schema/edtf"
	"yearmark/testdata/need"
)

// TestDates holds dates to the rules of csl-data.json (Citation Style Language
// 1.0.2): one or two lists of year, month and day; seasons 1 to 4; circa.
func TestDates(t *testing.T) {
	for text, want := range map[string]string{
		"1955":            `{"date-parts":[[1955]]}`,
		"1955-04":         `{"date-parts":[[1955,4]]}`,
		"1955-04-12":      `{"date-parts":[[1955,4,12]]}`,
		"1955/1957":       `{"date-parts":[[1955],[1957]]}`,
		"1955-01/1957":    `{"date-parts":[[1955,1],[1957]]}`,
		"1950~":           `{"date-parts":[[1950]],"circa":true}`,
		"1950?":           `{"date-parts":[[1950]],"circa":true}`,
		"1950~/1952":      `{"date-parts":[[1950],[1952]],"circa":true}`,
		"1964-21":         `{"date-parts":[[1964]],"season":1}`,
		"1964-24":         `{"date-parts":[[1964]],"season":4}`,
		"1964-33":         `{"literal":"first quarter of 1964"}`,
		"1964-21/1965-22": `{"literal":"spring 1964 to summer 1965"}`,
		"196X":            `{"literal":"one year of 1960–1969"}`,
		"[1966,1968]":     `{"literal":"1966 or 1968"}`,
		"1964/..":         `{"literal":"1964 and onwards"}`,
	} {
		e, err := edtf.Parse(text)
		if err != nil {
			t.Fatal(err)
		}
		got, err := json.Marshal(DateOf(e))
		if err != nil || string(got) != want && !strings.Contains(want, "literal") {
			t.Errorf("%s became %s, want %s", text, got, want)
		}
		if strings.Contains(want, "literal") && (DateOf(e).Literal != e.Words() || DateOf(e).Parts != nil) {
			t.Errorf("%s became %s, want its words", text, got)
		}
	}
	if DateOf(edtf.Expr{}) != nil {
		t.Error("no date became one")
	}
}

// demonstration is the demonstration's sources as CSL-JSON.
func demonstration(t *testing.T) (*schema.Reference, []byte) {
	t.Helper()
	ref, problems, err := schema.Read(filepath.Join(need.Root(t), "content"))
	if err != nil || len(problems) > 0 {
		t.Fatal(err, problems)
	}
	var out bytes.Buffer
	if err := Write(&out, ref); err != nil {
		t.Fatal(err)
	}
	return ref, out.Bytes()
}

// TestPublishedSchema holds the demonstration's sources to csl-data.json as it
// was published (citation-style-language/schema, MIT), which stands beside the
// checkout where this project is built. Elsewhere the shape below must do.
func TestPublishedSchema(t *testing.T) {
	_, data := demonstration(t)
	published, err := os.ReadFile(filepath.Join(need.Root(t), "..", "shared", "csl-data.schema.json"))
	if err != nil {
		t.Logf("the published schema is not here (%v): only TestShape looked at the items", err)
		return
	}
	document, err := jsonschema.UnmarshalJSON(bytes.NewReader(published))
	if err != nil {
		t.Fatal(err)
	}
	c := jsonschema.NewCompiler()
	if err := c.AddResource("csl.json", document); err != nil {
		t.Fatal(err)
	}
	s, err := c.Compile("csl.json")
	if err != nil {
		t.Fatal(err)
	}
	value, err := jsonschema.UnmarshalJSON(bytes.NewReader(data))
	if err != nil {
		t.Fatal(err)
	}
	if err := s.Validate(value); err != nil {
		t.Error(err)
	}
	if err := s.Validate([]any{map[string]any{"id": "x", "type": "advertisement"}}); err == nil {
		t.Error("the schema takes a type that there is not: it checks nothing")
	}
}

// TestShape asks of every item what the published schema asks: an id, a type
// of the 45, no key that there is not, dates of one or two lists of one to
// three figures.
func TestShape(t *testing.T) {
	ref, data := demonstration(t)
	var items []map[string]any
	if err := json.Unmarshal(data, &items); err != nil || len(items) != ref.Sources.Len() {
		t.Fatalf("%d items, %v", len(items), err)
	}
	known := map[string]bool{"id": true, "type": true, "title": true, "genre": true, "author": true, "issued": true, "archive": true, "URL": true, "accessed": true, "custom": true}
	theirs := strings.Fields("article-magazine book document interview manuscript pamphlet patent personal_communication song webpage")
	seen := map[string]bool{}
	for _, item := range items {
		for key := range item {
			if !known[key] {
				t.Errorf("%v has the key %q", item["id"], key)
			}
		}
		kind, _ := item["type"].(string)
		seen[kind] = true
		if item["id"] == "" || !strings.Contains(" "+strings.Join(theirs, " ")+" ", " "+kind+" ") {
			t.Errorf("%v has the type %q", item["id"], kind)
		}
		if issued, ok := item["issued"].(map[string]any); ok {
			list, _ := issued["date-parts"].([]any)
			if literal, _ := issued["literal"].(string); len(list) == 0 && literal == "" || len(list) > 2 {
				t.Errorf("%v was issued %v", item["id"], issued)
			}
		}
	}
	if len(seen) < 8 {
		t.Errorf("only %d types among the demonstration's sources", len(seen))
	}
}

// TestReadOwn reads back what was written.
func TestReadOwn(t *testing.T) {
	ref, data := demonstration(t)
	list, err := Read(data)
	if err != nil || len(list) != ref.Sources.Len() {
		t.Fatalf("%d sources, %v", len(list), err)
	}
	for _, got := range list {
		s, ok := ref.Sources.Get(got.ID)
		if !ok {
			t.Errorf("there is no source %q", got.ID)
			continue
		}
		want := Source{ID: s.ID, Called: s.ID, Line: got.Line, Name: s.Name.Value, Kind: s.Kind.Value, By: s.By.Value, Issued: s.Issued.String(), Kept: s.Kept.Value, Link: s.Link.Value, Own: got.Own}
		if d := cmp.Diff(want, got); d != "" || got.Own == nil {
			t.Error(d)
		}
	}
}

// TestReadOthers reads items as reference managers write them (made up here
// after the schema; the names of the fields are CSL's).
func TestReadOthers(t *testing.T) {
	for item, want := range map[string]Source{
		`{"id":"Tarn_2001","type":"book","title":"Bows","author":[{"given":"A.","family":"Tarn"},{"literal":"The Club"}],"issued":{"date-parts":[["2001"]]},"ISBN":"x"}`: {
			ID: "tarn-2001", Called: "Tarn_2001", Name: "Bows", Kind: "book", By: "A. Tarn and The Club", Issued: "2001", LeftOut: []string{"ISBN"}},
		`{"id":7,"type":"article-magazine","title":"A bow with manners","container-title":"Nock","issued":{"date-parts":[[1958,8]],"circa":true},"page":22}`: {
			ID: "7", Called: "7", Name: "“A bow with manners”, Nock", Kind: "article", Issued: "1958-08~", LeftOut: []string{"page"}},
		`{"id":"a","type":"article-magazine","genre":"Advertisement","title":"x","issued":{"raw":"1964~/1965"},"accessed":{"date-parts":[[2020,1,2]]}}`: {
			ID: "a", Called: "a", Name: "x", Kind: "advertisement", Issued: "1964~/1965", LeftOut: []string{"accessed"}},
		`{"id":"b","type":"manuscript","genre":"factory paper","title":"x","archive":"Library","archive_location":"box 3","DOI":"10.1/2"}`: {
			ID: "b", Called: "b", Name: "x", Kind: "factory-paper", Kept: "Library, box 3", Link: "https://doi.org/10.1/2"},
		`{"id":"c","type":"pamphlet","title":"x","publisher":"A firm","issued":{"date-parts":[[1950],[1952,3]],"season":"1"}}`: {
			ID: "c", Called: "c", Name: "x", Kind: "catalogue", By: "A firm", Issued: "1950/1952-03"},
		`{"id":"d","type":"pamphlet","title":"x","issued":{"date-parts":[["1950"]],"season":"2"}}`: {
			ID: "d", Called: "d", Name: "x", Kind: "catalogue", Issued: "1950-22"},
		`{"id":"e","type":"webpage","title":"x","issued":{"literal":"last summer"}}`: {
			ID: "e", Called: "e", Name: "x", Kind: "web", LeftOut: []string{"issued"}},
		`{"type":"dataset"}`: {Faults: []string{"the item has no id", "the item has no title",
			`the type "dataset" does not tell what kind of source it is; give it as genre: catalogue, price-list, advertisement, factory-paper, letter …`}},
	} {
		want.Line = 2
		got, err := Read([]byte("[\n" + item + "\n]"))
		if err != nil || len(got) != 1 {
			t.Errorf("%s: %v", item, err)
		} else if d := cmp.Diff(want, got[0]); d != "" {
			t.Errorf("%s:\n%s", item, d)
		}
	}
}

func TestReadRefuses(t *testing.T) {
	for data, want := range map[string]string{
		"":                      "line 1: ",
		"{}":                    "line 1: ",
		"[\n\n{\"id\":}]":       "line 3: ",
		"[{},\n{},\n7]":         "line 3: ",
		"[{}":                   "is not closed",
		"[{\"id\": \"a\"}\n,\n": "line",
	} {
		if got, err := Read([]byte(data)); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%q: %v, %v", data, got, err)
		}
	}
}

func FuzzRead(f *testing.F) {
	f.Add([]byte(`[{"id":"a","type":"book","title":"x","issued":{"date-parts":[[1950,13,40]]},"author":[{"family":"y"},7]}]`))
	f.Add([]byte(`[{"id":{},"custom":{"yearmark":{"kind":"x","relies-on":["a"]}}}]`))
	f.Fuzz(func(t *testing.T, data []byte) {
		list, err := Read(data)
		for _, s := range list {
			if err == nil && s.Issued != "" && s.Own == nil {
				if _, wrong := edtf.Parse(s.Issued); wrong != nil {
					t.Errorf("%q is no date: %v", s.Issued, wrong)
				}
			}
		}
	})
}
