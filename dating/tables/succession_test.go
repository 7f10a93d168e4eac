package tables_test

import (
	"bytes"
	"fmt"
	"slices"
	"testing"

	"yearmark/chronology"
	"yearmark/dating"
	"yearmark/dating/tables"
	"yearmark/provenance"
	"yearmark/schema"
)

// TestASuccessionWritesTheFilesOfBuild gives sources, features and models of
// the demonstration other names one after another, and holds the files of
// every state against those of Build; what bears on nothing is taken over.
func TestASuccessionWritesTheFilesOfBuild(t *testing.T) {
	ref, _, err := schema.Read("../../content")
	if err != nil {
		t.Fatal(err)
	}
	engines, s := &dating.Succession{}, &tables.Succession{}
	kept := map[string]*byte{} // the first byte of each file of the state before
	for n, pick := range []func() schema.Record{
		func() schema.Record { return nil },
		func() schema.Record { return ref.Pages.All()[0] },
		func() schema.Record { return ref.Sources.All()[3] },
		func() schema.Record { return ref.Models.All()[5] },
		func() schema.Record { return ref.Features.All()[2] },
		func() schema.Record { return ref.Makers.All()[1] },
		func() schema.Record { return ref.Examples.All()[7] },
		func() schema.Record { return ref.Models.All()[0] },
	} {
		if r := pick(); r != nil {
			records := slices.DeleteFunc(ref.Records(), func(other schema.Record) bool { return other == r })
			now, _ := schema.ReadRecord(r.Header().File, bytes.Replace(r.Header().Source, []byte("\nname: "), fmt.Appendf(nil, "\nname: Renamed %d ", n), 1))
			ref, _ = schema.Assemble(ref.Folder, ref.Settings, append(records, now), ref.Pictures)
		}
		e := engines.Engine(ref, chronology.Build(ref), provenance.Weigh(ref))
		got, manifest := s.Build(e)
		want, wantManifest := tables.Build(e)
		same := 0
		for i, f := range want {
			if got[i].Name != f.Name || !bytes.Equal(got[i].Data, f.Data) {
				t.Fatalf("state %d: %s is not %s as Build writes it", n, got[i].Name, f.Name)
			}
			if kept[f.Name] == &got[i].Data[0] {
				same++
			}
		}
		if len(got) != len(want) || manifest != wantManifest {
			t.Fatalf("state %d: %d files and %v, Build gives %d and %v", n, len(got), manifest, len(want), wantManifest)
		}
		if n == 1 && same < len(got)-2 {
			t.Errorf("of %d files %d are taken over where only an essay changed", len(got), same)
		}
		clear(kept)
		for _, f := range got {
			kept[f.Name] = &f.Data[0]
		}
	}
}
