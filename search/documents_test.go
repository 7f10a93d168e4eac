package search

import (
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/google/go-cmp/cmp"

	"yearmark/schema"
	"yearmark/schema/edtf"
)

// records is a reference with one record of each kind.
var records = map[string]string{
	"reference.yaml": "name: A register\nyears: 1930/1985\n",
	"makers/halvane.md": `---
record: maker
name: Halvane Archery
place: The Bobbin Mill
trading: {span: 1947/1978, cites: ["list"]}
owners: [{name: Edmund Halvane, span: 1947/1967, cites: ["list"]}]
weight-marks: {before: {"•": -1 lb}, cites: ["list"]}
---
A joiner who *took over* the mill.
`,
	"models/plover.md": `---
record: model
name: Plover
maker: halvane
use: [target, field]
made: {span: 1958/1971, cites: ["list"]}
eras:
  - {id: second, name: Second pattern, span: 1964/1967, cites: ["list"]}
features:
  - {id: padauk, feature: riser-wood, value: padauk, span: 1965, cites: ["list"], note: "Checks in dry houses"}
  - {id: elm, feature: riser-wood, value: elm, span: 1958/1960, cites: ["list"]}
  - {id: number, feature: model-number, value: "^H-24$", span: 1958/1966, cites: ["list"]}
  - {id: serials, feature: model-number, value: "^A[0-9]{4}$", era: second, cites: ["list"]}
specs:
  - {id: weights, spec: draw-weight, range: 30..55 lb, span: 1964/1966, cites: ["list"]}
---
The bow by which [Halvane](maker:halvane) is remembered.
`,
	"features/riser-wood.md": `---
record: feature
name: Riser wood
ask: What wood is it?
look: Look at bare wood.
kind: choice
values:
  - {id: padauk, name: Padauk, tell: Orange-red}
  - {id: elm, name: Elm}
---
`,
	"features/model-number.md": "---\nrecord: feature\nname: Model number\nkind: text\nsingles-out: true\n---\n",
	"features/draw-weight.md":  "---\nrecord: feature\nname: Draw weight\nkind: number\nunit: lb\nplausible: 10..80\nstep: 1\n---\n",
	"sources/list.md":          "---\nrecord: source\nname: Halvane price list\nkind: price-list\nby: Halvane\nissued: 1964-05\nkept: Box 3\n---\nEight pages.\n",
	"examples/0007.md": `---
record: example
model: plover
observed:
  - {feature: riser-wood, value: [padauk, elm], note: Raw edge}
  - {feature: draw-weight, value: 42}
weight-mark: "•42 @ 28"
documented: {span: 1965, cites: ["list"]}
condition: [{part: upper limb, state: slight twist}]
private: {owner: Somebody}
---
Paid in cash.
`,
	"pages/cautions.md": "---\nrecord: page\ntitle: Cautions\nabout: Old bows hurt people\n---\nHang it on the wall.\n",
}

func TestDocuments(t *testing.T) {
	files := fstest.MapFS{}
	for name, text := range records {
		files[name] = &fstest.MapFile{Data: []byte(text)}
	}
	ref, problems, err := schema.ReadFS(files, "made")
	if err != nil || len(problems) > 0 {
		t.Fatal(err, problems)
	}
	docs := Documents(ref, nil)
	want := []Document{
		{
			Kind: KindMaker, ID: "halvane", Title: "Halvane Archery", About: "The Bobbin Mill, 1947–1978", Summary: "The Bobbin Mill\nEdmund Halvane", Address: "makers/halvane.html",
			Maker: "halvane", First: 1947, Last: 1978, Text: "Edmund Halvane 1947/1967\ndot • before beside the stamped draw weight, weight mark\nA joiner who took over the mill.",
		},
		{
			Kind: KindModel, ID: "plover", Title: "Plover", About: "Halvane Archery, 1958–1971", Summary: "Plover\nH-24\nThe bow by which Halvane is remembered.", Address: "models/plover.html",
			Maker: "halvane", Model: "plover", First: 1958, Last: 1971,
			Holds: []Held{
				{Feature: "riser-wood", Value: "padauk", Name: "Padauk Riser wood", First: 1965, Last: 1965, Claim: "models/plover.html#padauk"},
				{Feature: "riser-wood", Value: "elm", Name: "Elm Riser wood", First: 1958, Last: 1960, Claim: "models/plover.html#elm"},
				{Feature: "model-number", Value: "^H-24$", First: 1958, Last: 1966, Claim: "models/plover.html#number"},
				{Feature: "model-number", Value: "^A[0-9]{4}$", First: 1964, Last: 1967, Claim: "models/plover.html#serials"},
				{Feature: "draw-weight", Value: "30..55 lb", Low: 30, High: 55, IsFigure: true, First: 1964, Last: 1966, Claim: "models/plover.html#weights"},
			},
			Text: "Halvane Archery\ntarget field\n1958/1971\nSecond pattern 1964/1967\nRiser wood Padauk 1965\nChecks in dry houses\nRiser wood Elm 1958/1960\n" +
				"Model number H-24 1958/1966\nModel number\nDraw weight 30..55 lb 1964/1966\nThe bow by which Halvane is remembered.",
		},
		{
			Kind: KindEra, ID: "plover/second", Title: "Plover: Second pattern", About: "Halvane Archery, 1964–1967", Address: "models/plover.html#era-second",
			Maker: "halvane", Model: "plover", First: 1964, Last: 1967,
			Holds: []Held{
				{Feature: "riser-wood", Value: "padauk", Name: "Padauk Riser wood", First: 1965, Last: 1965, Claim: "models/plover.html#padauk"},
				{Feature: "model-number", Value: "^H-24$", First: 1964, Last: 1966, Claim: "models/plover.html#number"},
				{Feature: "model-number", Value: "^A[0-9]{4}$", First: 1964, Last: 1967, Claim: "models/plover.html#serials"},
				{Feature: "draw-weight", Value: "30..55 lb", Low: 30, High: 55, IsFigure: true, First: 1964, Last: 1966, Claim: "models/plover.html#weights"},
			},
			Text: "Halvane Archery\ntarget field\n1964 1965 1966 1967\nRiser wood Padauk\nModel number H-24\nModel number\nDraw weight 30..55 lb",
		},
		{Kind: KindFeature, ID: "draw-weight", Title: "Draw weight", Address: "features/draw-weight.html"},
		{Kind: KindFeature, ID: "model-number", Title: "Model number", Address: "features/model-number.html"},
		{Kind: KindFeature, ID: "riser-wood", Title: "Riser wood", About: "What wood is it?", Summary: "What wood is it?", Address: "features/riser-wood.html", Text: "Look at bare wood.\nPadauk\nElm"},
		{
			Kind: KindValue, ID: "riser-wood/padauk", Title: "Riser wood: Padauk", About: "Orange-red", Summary: "Orange-red",
			Address: "features/riser-wood.html#value-padauk", Holds: []Held{{Feature: "riser-wood", Value: "padauk"}},
		},
		{Kind: KindValue, ID: "riser-wood/elm", Title: "Riser wood: Elm", Address: "features/riser-wood.html#value-elm", Holds: []Held{{Feature: "riser-wood", Value: "elm"}}},
		{
			Kind: KindSource, ID: "list", Title: "Halvane price list", About: "price list, Halvane, 1964-05", Address: "sources/list.html",
			First: 1964, Last: 1964, Text: "price list\nHalvane\n1964-05\nBox 3\nEight pages.",
		},
		{
			Kind: KindExample, ID: "0007", Title: "Example 0007", About: "Halvane Archery, Plover, 1965", Summary: "Raw edge", Address: "examples/0007.html",
			Maker: "halvane", Model: "plover", First: 1965, Last: 1965,
			Holds: []Held{
				{Feature: "riser-wood", Value: "padauk", Name: "Padauk Riser wood", First: 1965, Last: 1965},
				{Feature: "riser-wood", Value: "elm", Name: "Elm Riser wood", First: 1965, Last: 1965},
				{Feature: "draw-weight", Value: "42", Low: 42, High: 42, IsFigure: true, First: 1965, Last: 1965},
			},
			Text: "example 0007\nweight mark •42 @ 28\n1965\nHalvane Archery, Plover\nRiser wood Padauk\nRiser wood Elm\nDraw weight 42\nupper limb slight twist\nPaid in cash.",
		},
		{Kind: KindPage, ID: "cautions", Title: "Cautions", About: "Old bows hurt people", Summary: "Old bows hurt people", Address: "pages/cautions.html", Text: "Hang it on the wall."},
	}
	if diff := cmp.Diff(want, docs); diff != "" {
		t.Errorf("want -, got +:\n%s", diff)
	}
	for _, d := range docs {
		if strings.Contains(d.Text+d.Title+d.About+d.Summary, "Somebody") {
			t.Errorf("%s gives away the owner", d.Address)
		}
	}
}

// TestConditionsAreFoundAndSaid wants a value that is held under a condition found
// by words of both, and told with it.
func TestConditionsAreFoundAndSaid(t *testing.T) {
	files := fstest.MapFS{}
	for name, text := range records {
		text = strings.Replace(text, "value: elm, span: 1958/1960,", "value: elm, when: {draw-weight: ..39 lb}, span: 1958/1960,", 1)
		files[name] = &fstest.MapFile{Data: []byte(text)}
	}
	ref, problems, err := schema.ReadFS(files, "made")
	if err != nil || len(problems) > 0 {
		t.Fatal(err, problems)
	}
	ix := build(t, Documents(ref, nil))
	want := []HitClaim{{"riser-wood=elm", "models/plover.html#elm", " where the draw weight is up to 39 lb"}}
	for _, q := range []Query{{Features: []string{"riser-wood=elm"}, Kinds: []string{"model"}}, {Words: "elm up to 39 lb", Features: []string{"riser-wood=elm"}, Kinds: []string{"model"}}} {
		r, err := ix.Find(q)
		if err != nil || len(r.Hits) != 1 || !slices.Equal(r.Hits[0].Claims, want) {
			t.Errorf("%v finds %+v, %v", q, r.Hits, err)
		}
	}
}

// TestDocumentsTakeTheYearsGiven holds documents to the years that the caller worked out.
func TestDocumentsTakeTheYearsGiven(t *testing.T) {
	files := fstest.MapFS{}
	for name, text := range records {
		files[name] = &fstest.MapFile{Data: []byte(text)}
	}
	ref, _, err := schema.ReadFS(files, "made")
	if err != nil {
		t.Fatal(err)
	}
	docs := Documents(ref, func(c *schema.Claim) edtf.Years {
		if c.ID.Value == "elm" {
			return edtf.Years{A: 1, B: 0, C: 1, D: 0} // none is possible
		}
		return edtf.OverRange(edtf.Range{First: 1960, Last: 1961})
	})
	model := docs[slices.IndexFunc(docs, func(d Document) bool { return d.Kind == KindModel })]
	if model.First != 1960 || model.Last != 1961 {
		t.Errorf("the model is of %d to %d", model.First, model.Last)
	}
	for _, h := range model.Holds {
		want := edtf.Range{First: 1960, Last: 1961}
		if h.Value == "elm" {
			want = edtf.Range{}
		}
		if h.First != want.First || h.Last != want.Last {
			t.Errorf("%s is of %d to %d, want %d to %d", h.Key(), h.First, h.Last, want.First, want.Last)
		}
	}
}
