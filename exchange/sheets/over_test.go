package sheets

import (
	"os"
	"testing"

	"github.com/google/go-cmp/cmp"

	"yearmark/schema"
)

// TestOverIsWhatWriteWrites reads a folder with a plan laid over it, and the
// same folder once the plan is written: they say the same.
func TestOverIsWhatWriteWrites(t *testing.T) {
	for _, files := range []map[string]string{register(t), {"reference.yaml": register(t)["reference.yaml"]}} {
		folder := onDisk(t, files)
		orders := "sources\nset list-1955 kept \"Box 2\"\nadd source book-2001 name Book kind book"
		if len(files) == 1 {
			orders = "sources\nadd source book-2001 name Book kind book"
		}
		p, err := Prepare(load(t, files), "t.csv", changed(t, files, orders))
		if err != nil {
			t.Fatal(err)
		}
		over := p.Over(os.DirFS(folder))
		ref, problems, err := schema.ReadFS(over, "register")
		if err != nil || len(problems) > 0 {
			t.Fatal(err, problems)
		}
		if err := p.Write(folder); err != nil {
			t.Fatal(err)
		}
		written, problems, err := schema.Read(folder)
		if err != nil || len(problems) > 0 {
			t.Fatal(err, problems)
		}
		sources := func(r map[string]string) map[string]string {
			for _, record := range written.Records() {
				delete(r, record.Header().File+string(record.Header().Source))
			}
			return r
		}
		left := map[string]string{}
		for _, record := range ref.Records() {
			left[record.Header().File+string(record.Header().Source)] = "only in the laid-over folder"
		}
		if d := cmp.Diff(map[string]string{}, sources(left)); d != "" || len(ref.Records()) != len(written.Records()) {
			t.Errorf("%d records laid over, %d written:\n%s", len(ref.Records()), len(written.Records()), d)
		}
	}
}
