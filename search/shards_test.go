package search

import (
	"bytes"
	"compress/flate"
	"io"
	"slices"
	"strings"
	"testing"

	"yearmark/schema"
	"yearmark/schema/edtf"
)

// TestShardsAreTheSameEachTime holds two builds of the same documents, handed over in
// different order, to the same bytes.
func TestShardsAreTheSameEachTime(t *testing.T) {
	docs := made(600)
	first, err := build(t, docs).Shards(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	slices.Reverse(docs)
	again, err := build(t, docs).Shards(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	if len(first) != len(again) {
		t.Fatalf("%d files, then %d", len(first), len(again))
	}
	for i, f := range first {
		if g := again[i]; f.Name != g.Name || !bytes.Equal(f.Data(), g.Data()) {
			t.Errorf("%s (%d bytes) came out as %s (%d bytes)", f.Name, len(f.Data()), g.Name, len(g.Data()))
		}
	}
}

func TestShardsAreNamedByWhatTheyHold(t *testing.T) {
	files, err := build(t, small()).Shards(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	changed := small()
	changed[0].Title = "Ployer"
	others, err := build(t, changed).Shards(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	folder, name, _ := strings.Cut(files[0].Name, "/")
	if name != "root.bin" || len(folder) != 12 {
		t.Errorf("the first file is %s", files[0].Name)
	}
	for _, f := range files {
		if !strings.HasPrefix(f.Name, folder+"/") {
			t.Errorf("%s is not in the folder %s", f.Name, folder)
		}
	}
	if strings.HasPrefix(others[0].Name, folder) {
		t.Errorf("another index has the same folder %s", folder)
	}
}

func TestShardsOfNothing(t *testing.T) {
	files, err := build(t, nil).Shards(t.Context())
	if err != nil || len(files) == 0 {
		t.Errorf("got %d files and %v, want a root file", len(files), err)
	}
}

// unpacked is what a file holds.
func unpacked(t *testing.T, data []byte) string {
	t.Helper()
	if data[0] == 0 {
		return string(data[1:])
	}
	all, err := io.ReadAll(flate.NewReader(bytes.NewReader(data[1:])))
	if err != nil {
		t.Fatal(err)
	}
	return string(all)
}

// TestNothingPrivateIsIndexed looks for what a record keeps private in the documents, the
// dictionary and every file.
func TestNothingPrivateIsIndexed(t *testing.T) {
	ref := &schema.Reference{}
	record := "---\nrecord: example\nname: The shed bow\nobserved: []\nprivate: {owner: Zzgard Quellwright, paid: twelve groats, serial: QX9917}\n---\n\nFound in a shed.\n"
	r, problems := schema.ReadRecord("examples/0001.md", []byte(record))
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	w := &writer{ref: ref}
	w.example(r.(*schema.Example))
	files, err := build(t, w.docs).Shards(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	var all strings.Builder
	for _, f := range files {
		all.WriteString(unpacked(t, f.Data()))
	}
	if !strings.Contains(all.String(), "shed bow") {
		t.Error("the example's name is in no file: this test looks in vain")
	}
	for _, secret := range []string{"Zzgard", "zzgard", "Quellwright", "quellwright", "groats", "groat", "QX9917", "qx9917"} {
		if strings.Contains(all.String(), secret) {
			t.Errorf("%q is in the files", secret)
		}
		if found, err := build(t, w.docs).Find(Query{Words: secret}); err != nil || found.Total > 0 {
			t.Errorf("%q finds %d documents (%v)", secret, found.Total, err)
		}
	}
}

func TestBuildRefuses(t *testing.T) {
	page := Document{Kind: KindPage, ID: "a", Address: "pages/a.html"}
	for _, c := range []struct {
		docs []Document
		want string
	}{
		{[]Document{{Kind: KindPage, ID: "a"}}, `the page "a" has no address: give it one`},
		{[]Document{page, page}, `two documents have the address "pages/a.html": a and a`},
		{[]Document{{Kind: "poem", Address: "x"}}, `"x" is of kind "poem": want one of maker, model, era, feature, value, source, place, example, page`},
	} {
		if _, err := Build(t.Context(), c.docs); err == nil || err.Error() != c.want {
			t.Errorf("got %v, want %s", err, c.want)
		}
	}
}

func TestBuildBoundsYears(t *testing.T) {
	docs := []Document{{
		Kind: KindModel, ID: "a", Address: "models/a.html", First: -1 << 60, Last: 1 << 60,
		Holds: []Held{{Feature: "f", Value: "v", First: 1990, Last: 1960}},
	}}
	ix := build(t, docs)
	if _, err := ix.Shards(t.Context()); err != nil {
		t.Fatal(err)
	}
	if docs[0].Holds[0].Last != 1960 {
		t.Error("the caller's documents were changed")
	}
	r, err := ix.Find(Query{Features: []string{"f=v"}, Years: edtf.Range{First: 1990, Last: 1990}})
	if err != nil || r.Total != 1 {
		t.Errorf("got %d and %v, want the one document", r.Total, err)
	}
}
