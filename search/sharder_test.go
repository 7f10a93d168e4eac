package search

import (
	"bytes"
	"context"
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"yearmark/chronology"
	"yearmark/schema"
)

// same wants the files of a sharder to be those of an index built anew with Bleve.
func same(t *testing.T, s *Sharder, ref *schema.Reference, after string) {
	t.Helper()
	years := chronology.Build(ref)
	ix, err := Build(context.Background(), Documents(ref, years.Years))
	if err != nil {
		t.Fatal(err)
	}
	defer ix.Close()
	want, err := ix.Shards()
	if err != nil {
		t.Fatal(err)
	}
	got, err := s.Shards(context.Background(), ref, years)
	if err != nil {
		t.Fatal(err)
	}
	if len(got.Names()) != len(want) {
		t.Fatalf("%s: %d files, from Bleve %d", after, len(got.Names()), len(want))
	}
	for i, name := range got.Names() {
		if name != want[i].Name || !bytes.Equal(got.Pack(name), want[i].Data) {
			t.Fatalf("%s: the file %s is not %s as read out of Bleve", after, name, want[i].Name)
		}
	}
}

// register reads the demonstration.
func register(t *testing.T) *schema.Reference {
	t.Helper()
	ref, _, err := schema.Read("../content")
	if err != nil {
		t.Fatal(err)
	}
	return ref
}

// changed is the reference with one record in the place of another of its
// file, or without it where text is nil.
func changed(t *testing.T, ref *schema.Reference, file string, text []byte) *schema.Reference {
	t.Helper()
	records := slices.DeleteFunc(ref.Records(), func(r schema.Record) bool { return r.Header().File == file })
	if text != nil {
		r, _ := schema.ReadRecord(file, text)
		if r == nil {
			t.Fatalf("%s cannot be read:\n%s", file, text)
		}
		records = append(records, r)
	}
	now, _ := schema.Assemble(ref.Folder, ref.Settings, records, ref.Pictures)
	return now
}

// alterations are changes to the text of a record.
var alterations = []struct {
	name string
	do   func(source []byte, rng *rand.Rand) []byte
}{
	{"words at the end", func(b []byte, rng *rand.Rand) []byte {
		return fmt.Appendf(bytes.Clone(b), "\nThe newcomer%d stood beside take-down H-%d bows.\n", rng.IntN(5), rng.IntN(90))
	}},
	{"another title", func(b []byte, rng *rand.Rand) []byte {
		return bytes.Replace(b, []byte("\nname: "), fmt.Appendf(nil, "\nname: Renamed%d ", rng.IntN(9)), 1)
	}},
	{"another year", func(b []byte, rng *rand.Rand) []byte {
		return bytes.ReplaceAll(b, []byte("span: 196"), []byte("span: 195"))
	}},
	{"gone", func([]byte, *rand.Rand) []byte { return nil }},
}

func TestShardsOfAnEditedReferenceAreThoseOfBleve(t *testing.T) {
	rng := rand.New(rand.NewPCG(8, 1))
	s, ref := &Sharder{}, register(t)
	same(t, s, ref, "at first")
	for range 24 {
		records := ref.Records()
		r := records[rng.IntN(len(records))]
		edit := alterations[rng.IntN(len(alterations))]
		ref = changed(t, ref, r.Header().File, edit.do(r.Header().Source, rng))
		same(t, s, ref, r.Header().File+" with "+edit.name)
	}
}

func TestASharderForgetsTermsOutOfUse(t *testing.T) {
	s, ref := &Sharder{}, register(t)
	years := chronology.Build(ref)
	if _, err := s.Shards(context.Background(), ref, years); err != nil {
		t.Fatal(err)
	}
	page := ref.Pages.All()[0]
	used := len(s.inverted.books.terms.terms)
	for i := range 30 {
		text := bytes.Clone(page.Header().Source)
		for n := range 400 {
			text = fmt.Appendf(text, " word%dof%d", n, i)
		}
		if _, err := s.Shards(context.Background(), changed(t, ref, page.File, text), years); err != nil {
			t.Fatal(err)
		}
	}
	if n := len(s.inverted.books.terms.terms); n > 4*used+2000 {
		t.Errorf("%d terms are known where %d are used", n, used)
	}
	for n := range s.inverted.terms {
		if term := &s.inverted.terms[n]; term.entry.text == 0 && cap(term.occurs)+cap(term.gaps)+cap(term.entry.list) > 0 {
			t.Fatalf("the term %q stands nowhere and keeps room", s.inverted.books.terms.terms[n])
		}
	}
	same(t, s, ref, "after forgetting")
}

// TestASharderGoesOnAfterAStateItRefuses hands over a feature with one value
// twice, whose two documents have one address, between states that are good.
func TestASharderGoesOnAfterAStateItRefuses(t *testing.T) {
	s, ref := &Sharder{}, register(t)
	same(t, s, ref, "at first")
	feature := ref.Features.All()[0]
	var twice []byte
	for line := range bytes.Lines(feature.Source) {
		if bytes.HasPrefix(line, []byte("  - {id: ")) {
			twice = bytes.Replace(feature.Source, line, slices.Concat(line, line), 1)
			break
		}
	}
	broken := changed(t, ref, feature.File, twice)
	if _, err := s.Shards(context.Background(), broken, chronology.Build(broken)); err == nil || !strings.Contains(err.Error(), "have the address") {
		t.Errorf("two documents with one address: got %v", err)
	}
	same(t, s, changed(t, ref, ref.Pages.All()[0].File, nil), "without a page")
	same(t, s, ref, "at last")
}
