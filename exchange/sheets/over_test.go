package sheets

import (
	"context"
	"errors"
	"io"
	"os"
	"path/filepath"
	"testing"

	"github.com/google/go-cmp/cmp"

	"yearmark/exchange/journal"
	"yearmark/schema"
)

// TestOverIsWhatTheJournalWrites reads a folder with a plan laid over it, and the
// same folder once the plan is written: they say the same.
func TestOverIsWhatTheJournalWrites(t *testing.T) {
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
		over := journal.Over(os.DirFS(folder), p.Changes)
		ref, problems, err := schema.ReadFS(over, "register")
		if err != nil || len(problems) > 0 {
			t.Fatal(err, problems)
		}
		if err := carryOut(folder, p); err != nil {
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

// onDisk writes files into a folder of their own.
func onDisk(t *testing.T, files map[string]string) string {
	t.Helper()
	folder := t.TempDir()
	for name, data := range files {
		path := filepath.Join(folder, filepath.FromSlash(name))
		if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, []byte(data), 0o640); err != nil {
			t.Fatal(err)
		}
	}
	return folder
}

// carryOut writes a plan into a folder.
func carryOut(folder string, p *Plan) error {
	j, err := journal.Open(context.Background(), folder, io.Discard)
	if err != nil {
		return err
	}
	return errors.Join(j.Write("import t.csv", p.Changes), j.Close())
}
