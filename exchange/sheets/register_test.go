package sheets

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/google/go-cmp/cmp"
	"github.com/rogpeppe/go-internal/txtar"
	"golang.org/x/text/encoding/unicode"

	"yearmark/chronology"
	"yearmark/dating"
	"yearmark/provenance"
	"yearmark/schema"
	"yearmark/testdata/need"
)

// register gives the files of the small register.
func register(t testing.TB) map[string]string {
	t.Helper()
	archive, err := txtar.ParseFile(filepath.Join("testdata", "register.txtar"))
	if err != nil {
		t.Fatal(err)
	}
	files := map[string]string{}
	for _, f := range archive.Files {
		files[f.Name] = string(f.Data)
	}
	return files
}

// demonstration gives the files of the demonstration.
func demonstration(t testing.TB) map[string]string {
	t.Helper()
	root := filepath.Join(need.Root(t), "content")
	files := map[string]string{}
	for _, pattern := range []string{"*.yaml", "*/*.md", "recordings/*.vtt", "recordings/*.srt"} {
		paths, err := filepath.Glob(filepath.Join(root, pattern))
		if err != nil {
			t.Fatal(err)
		}
		for _, path := range paths {
			data, err := os.ReadFile(path)
			if err != nil {
				t.Fatal(err)
			}
			name, _ := filepath.Rel(root, path)
			files[filepath.ToSlash(name)] = string(data)
		}
	}
	if len(files) < 150 {
		t.Fatalf("only %d files in the demonstration", len(files))
	}
	return files
}

// load reads a reference from files, which may have no problems of reading.
func load(t testing.TB, files map[string]string) *schema.Reference {
	t.Helper()
	fsys := fstest.MapFS{}
	for name, data := range files {
		fsys[name] = &fstest.MapFile{Data: []byte(data)}
	}
	ref, problems, err := schema.ReadFS(fsys, "register")
	if err != nil || len(problems) > 0 {
		t.Fatalf("%v, %v", err, problems)
	}
	return ref
}

func facts(t testing.TB, files map[string]string) Facts {
	ref := load(t, files)
	f := Facts{Ref: ref, Timeline: chronology.Build(ref), Weighing: provenance.Weigh(ref)}
	f.LeaveOneOut = dating.NewLeaveOneOut(dating.New(ref, f.Timeline, f.Weighing), f.Timeline, f.Weighing)
	return f
}

// grid is a table as somebody at a spreadsheet has it before them.
type grid struct {
	name string
	rows [][]string // the first holds the names of the columns
}

func gridOf(t testing.TB, table Table) *grid {
	t.Helper()
	g := &grid{name: table.Name, rows: [][]string{nil}}
	for _, c := range table.Columns {
		g.rows[0] = append(g.rows[0], c.Name)
	}
	for r := range table.Rows {
		g.rows = append(g.rows, slices.Clone(r))
	}
	return g
}

func (g *grid) column(t testing.TB, name string) int {
	t.Helper()
	at := slices.Index(g.rows[0], name)
	if at < 0 {
		t.Fatalf("no column %q among %v", name, g.rows[0])
	}
	return at
}

// set writes a cell of the row whose first cell is key.
func (g *grid) set(t testing.TB, key, column, cell string) {
	t.Helper()
	for _, row := range g.rows[1:] {
		if row[0] == key {
			row[g.column(t, column)] = cell
			return
		}
	}
	t.Fatalf("no row %q", key)
}

// add appends a row of the cells given as column, cell, column, cell …
func (g *grid) add(t testing.TB, cells ...string) {
	t.Helper()
	row := make([]string, len(g.rows[0]))
	for i := 0; i < len(cells); i += 2 {
		row[g.column(t, cells[i])] = cells[i+1]
	}
	g.rows = append(g.rows, row)
}

// bytes writes the grid as a spreadsheet does.
func (g *grid) bytes(t testing.TB) []byte {
	t.Helper()
	var b bytes.Buffer
	w := csv.NewWriter(&b)
	for _, row := range g.rows {
		guarded := make([]string, len(row))
		for i, cell := range row {
			guarded[i] = guard(cell)
		}
		if err := w.Write(guarded); err != nil {
			t.Fatal(err)
		}
	}
	w.Flush()
	return b.Bytes()
}

// after carries a plan out on files.
func after(files map[string]string, p *Plan) map[string]string {
	now := maps.Clone(files)
	for _, c := range p.Changes {
		now[c.File] = string(c.After)
	}
	return now
}

// cells gives every cell that is read in, by row and column, but for those of
// claims that the tables of models and makers show too.
func cells(t testing.TB, files map[string]string) map[string]string {
	t.Helper()
	all := map[string]string{}
	for _, table := range Tables(Facts{Ref: load(t, files)}) {
		for row := range table.Rows {
			key := row[0]
			if table.Name == "features" {
				key += "/" + row[3]
			}
			for i, c := range table.Columns {
				again := strings.HasPrefix(c.Name, "made") || strings.HasPrefix(c.Name, "trading")
				if !c.Derived && row[i] != "" && !again {
					all[table.Name+" "+key+" "+c.Name] = row[i]
				}
			}
		}
	}
	return all
}

func TestUnchangedTablesChangeNothing(t *testing.T) {
	for name, files := range map[string]map[string]string{"register": register(t), "demonstration": demonstration(t)} {
		for _, mark := range []bool{false, true} {
			for _, table := range Tables(facts(t, files)) {
				var b bytes.Buffer
				rows, err := table.Write(&b, mark)
				if err != nil {
					t.Fatal(err)
				}
				p, err := Prepare(load(t, files), table.Name+".csv", b.Bytes())
				if err != nil {
					t.Errorf("%s: %v", name, err)
					continue
				}
				want := &Plan{Table: table.Name, Same: rows}
				if d := cmp.Diff(want, p); d != "" {
					t.Errorf("%s, %s:\n%s", name, table.Name, d)
				}
			}
		}
	}
}

// TestSpreadsheetHabits takes tables in as spreadsheets of other languages, and
// people, leave them.
func TestSpreadsheetHabits(t *testing.T) {
	files := register(t)
	habits := map[string]func(g *grid) []byte{
		"semicolons": func(g *grid) []byte { return bySign(t, g, ';') },
		"tabs":       func(g *grid) []byte { return bySign(t, g, '\t') },
		"UTF-16": func(g *grid) []byte {
			text, err := unicode.UTF16(unicode.BigEndian, unicode.UseBOM).NewEncoder().Bytes(bySign(t, g, '\t'))
			if err != nil {
				t.Fatal(err)
			}
			return text
		},
		"columns in another order, and remarks": func(g *grid) []byte {
			for i, row := range g.rows {
				slices.Reverse(row)
				g.rows[i] = append([]string{fmt.Sprintf("remark %d", i)}, row...)
			}
			g.rows[0][0] = "# mine"
			return g.bytes(t)
		},
		"columns left out": func(g *grid) []byte {
			for i, row := range g.rows {
				g.rows[i] = row[:4]
			}
			return g.bytes(t)
		},
		"rows left out and blank rows": func(g *grid) []byte {
			blank := make([]string, len(g.rows[0]))
			g.rows = [][]string{g.rows[0], blank, g.rows[len(g.rows)-1], blank}
			return append(g.bytes(t), "\r\n\r\n"...)
		},
		"spaces around cells": func(g *grid) []byte {
			for _, row := range g.rows {
				for i := range row {
					row[i] = "  " + row[i] + " "
				}
			}
			return g.bytes(t)
		},
		"zeros lost": func(g *grid) []byte {
			for _, row := range g.rows[1:] {
				row[0] = strings.TrimLeft(row[0], "0")
			}
			return g.bytes(t)
		},
		"yes as a truth value": func(g *grid) []byte {
			for _, row := range g.rows[1:] {
				for i := range row {
					row[i] = map[string]string{"yes": "TRUE", "no": "FALSE"}[row[i]] + notFlag(row[i])
				}
			}
			return g.bytes(t)
		},
	}
	for name, habit := range habits {
		for _, table := range Tables(facts(t, files)) {
			p, err := Prepare(load(t, files), table.Name+".csv", habit(gridOf(t, table)))
			if err != nil {
				t.Errorf("%s, %s: %v", name, table.Name, err)
			} else if len(p.Changes)+p.Edited+p.Added > 0 || p.Same == 0 {
				t.Errorf("%s, %s: %d edited, %d added, %d the same", name, table.Name, p.Edited, p.Added, p.Same)
			}
		}
	}
}

func notFlag(cell string) string {
	if cell == "yes" || cell == "no" {
		return ""
	}
	return cell
}

func bySign(t *testing.T, g *grid, sign rune) []byte {
	var b bytes.Buffer
	w := csv.NewWriter(&b)
	w.Comma, w.UseCRLF = sign, true
	for _, row := range g.rows {
		guarded := make([]string, len(row))
		for i, cell := range row {
			guarded[i] = guard(cell)
		}
		if err := w.Write(guarded); err != nil {
			t.Fatal(err)
		}
	}
	w.Flush()
	return b.Bytes()
}

// loadAnyway reads a reference whatever its problems.
func loadAnyway(t testing.TB, files map[string]string) *schema.Reference {
	t.Helper()
	fsys := fstest.MapFS{}
	for name, data := range files {
		fsys[name] = &fstest.MapFile{Data: []byte(data)}
	}
	ref, _, err := schema.ReadFS(fsys, "register")
	if err != nil {
		t.Fatal(err)
	}
	return ref
}

// written gives a table as "yearmark tables" writes it.
func written(t testing.TB, table Table) []byte {
	t.Helper()
	var b bytes.Buffer
	if _, err := table.Write(&b, true); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}
