package sheets

import (
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"yearmark/schema"

	"github.com/rogpeppe/go-internal/txtar"
)

// FuzzPrepare takes in whatever calls itself a table: it is refused in the
// words of a Problems, or every record that it makes can be read, in its own
// folder, and the table once more changes nothing.
func FuzzPrepare(f *testing.F) {
	files := register(f)
	for _, table := range Tables(Facts{Ref: load(f, files)}) {
		var b strings.Builder
		if _, err := table.Write(&b, false); err != nil {
			f.Fatal(err)
		}
		f.Add([]byte(b.String()))
	}
	archive, err := txtar.ParseFile(filepath.Join("testdata", "hostile.txtar"))
	if err != nil {
		f.Fatal(err)
	}
	for _, file := range archive.Files {
		f.Add(file.Data)
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		p, err := Prepare(load(t, files), "t.csv", data)
		var told Problems
		if err != nil {
			if !errors.As(err, &told) || len(told) == 0 || len(told) > maxProblems+1 {
				t.Fatalf("refused with %T: %v", err, err)
			}
			return
		}
		for _, c := range p.Changes {
			if r, problems := schema.ReadRecord(c.File, c.After); r == nil || len(problems) > 0 {
				t.Fatalf("%s: %v\n%s", c.File, problems, c.After)
			}
			_ = c.Diff()
		}
		now := after(files, p)
		if p.Added > 0 {
			return // a row without a name makes something new each time, unless it is the same to the letter
		}
		again, err := Prepare(load(t, now), "t.csv", data)
		if err != nil && !strings.Contains(err.Error(), "was changed in the records") {
			t.Fatalf("the second time: %v", err)
		}
		if err == nil && len(again.Changes) > 0 {
			t.Fatalf("the second time it changes %d records", len(again.Changes))
		}
	})
}

// TestHostileTables takes in tables that mean harm. None gets anything written
// outside a record's own folder, or anything that is not plain text there.
func TestHostileTables(t *testing.T) {
	archive, err := txtar.ParseFile(filepath.Join("testdata", "hostile.txtar"))
	if err != nil {
		t.Fatal(err)
	}
	folder := onDisk(t, register(t))
	for _, file := range archive.Files {
		p, err := Prepare(load(t, register(t)), file.Name, file.Data)
		harmless := strings.HasPrefix(file.Name, "harmless")
		switch {
		case harmless && err != nil:
			t.Errorf("%s: %v", file.Name, err)
		case !harmless && err == nil:
			t.Errorf("%s was taken over:\n%s", file.Name, p.Changes[0].Diff())
		case err == nil:
			if err := carryOut(folder, p); err != nil {
				t.Errorf("%s: %v", file.Name, err)
			}
			folder = onDisk(t, register(t))
		}
	}
	if len(archive.Files) < 15 {
		t.Errorf("only %d tables", len(archive.Files))
	}
	if _, err := os.Stat(filepath.Join(filepath.Dir(folder), "escaped.md")); err == nil {
		t.Error("something was written outside the folder")
	}
}
