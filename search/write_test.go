package search

import (
	"strings"
	"testing"
)

func TestWriteText(t *testing.T) {
	ix := build(t, small())
	for _, c := range []struct {
		q    Query
		want string
	}{
		{Query{Words: "padauk"}, "model    Plover\n         models/plover.html\n1 to 1 of 1\n"},
		{Query{Words: "paduak", Features: []string{"riser-wood=padauk"}}, "nothing has \"paduak\"; searched for padauk\n" +
			"model    Plover\n         models/plover.html\n         riser-wood=padauk by models/plover.html#padauk\n1 to 1 of 1\n"},
		{Query{Words: "h25"}, "nothing found\nnear words: h24\n"},
		{Query{Words: "qqq"}, "nothing found\n"},
		{Query{Limit: 1, Offset: 1}, "model    Plover\n         models/plover.html\n2 to 2 of 3\n"},
	} {
		r, err := ix.Find(c.q)
		if err != nil {
			t.Fatal(err)
		}
		var b strings.Builder
		if err := WriteText(&b, c.q, r); err != nil {
			t.Fatal(err)
		}
		if b.String() != c.want {
			t.Errorf("%+v:\n got %q\nwant %q", c.q, b.String(), c.want)
		}
	}
}

func TestWriteJSON(t *testing.T) {
	r := Result{Total: 1, Hits: []Hit{{Kind: KindModel, ID: "plover", Title: "Plover & <co>", Address: "models/plover.html", Score: 0.5}}}
	var b strings.Builder
	if err := WriteJSON(&b, r, nil); err != nil {
		t.Fatal(err)
	}
	want := `{
  "version": 1,
  "total": 1,
  "hits": [
    {
      "kind": "model",
      "id": "plover",
      "title": "Plover & <co>",
      "address": "models/plover.html",
      "score": 0.5
    }
  ]
}
`
	if b.String() != want {
		t.Errorf("got %s", b.String())
	}
	b.Reset()
	if err := WriteJSON(&b, Result{}, nil); err != nil || b.String() != "{\n  \"version\": 1,\n  \"total\": 0,\n  \"hits\": []\n}\n" {
		t.Errorf("nothing found gives %s (%v)", b.String(), err)
	}
}
