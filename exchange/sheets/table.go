package sheets

import (
	"bytes"
	"crypto/sha256"
	"encoding/csv"
	"encoding/hex"
	"io"
	"iter"
	"slices"
	"strings"
	"sync"

	"yearmark/chronology"
	"yearmark/dating"
	"yearmark/provenance"
	"yearmark/schema"
)

// Facts is what tables are made from. Only Ref is needed; without the others
// the columns that they would fill are empty.
type Facts struct {
	Ref         *schema.Reference
	Timeline    *chronology.Timeline
	Weighing    *provenance.Weighing
	LeaveOneOut *dating.LeaveOneOut // dates the examples
	Readers     bool                // the tables are for readers of the site, not for whoever keeps the records
}

// Table is one table, ready to be written.
type Table struct {
	Name    string // "claims"; its file is claims.csv
	About   string // a sentence
	Columns []Column
	// Rows gives cells as they are meant, without the guard against formulas.
	// Each row is made as it is asked for, so that a long table needs no memory,
	// and is good until the next.
	Rows iter.Seq[[]string]
}

// Column is one column of a table.
type Column struct {
	Name    string
	About   string // a sentence
	Derived bool   // worked out from the records, and not read in
}

// Tables gives every table: makers, models, claims, sources, examples, features, and those of Lists.
func Tables(f Facts) []Table {
	return append([]Table{makers.write(f), models.write(f), Claims(f), Sources(f), Examples(f), Features(f)}, Lists(f)...)
}

// byteOrderMark tells spreadsheets that a table is UTF-8.
const byteOrderMark = "\ufeff"

// Write writes the table as CSV and gives the number of its rows. The mark at
// its beginning is what spreadsheets want; other programs are better off without.
func (t Table) Write(w io.Writer, mark bool) (rows int, err error) {
	if mark {
		if _, err := io.WriteString(w, byteOrderMark); err != nil {
			return 0, err
		}
	}
	out := csv.NewWriter(w)
	out.UseCRLF = true
	cells := make([]string, len(t.Columns))
	for i, c := range t.Columns {
		cells[i] = guard(c.Name)
	}
	if err := out.Write(cells); err != nil {
		return 0, err
	}
	for row := range t.Rows {
		for i, cell := range row {
			cells[i] = guard(oneLineEnd(cell))
		}
		if err := out.Write(cells); err != nil {
			return rows, err
		}
		rows++
	}
	out.Flush()
	return rows, out.Error()
}

// rowsOf makes a row of each. row appends its cells.
func rowsOf[T any](all iter.Seq[T], row func(cells []string, of T) []string) iter.Seq[[]string] {
	return func(yield func([]string) bool) {
		var cells []string
		for of := range all {
			if cells = row(cells[:0], of); !yield(cells) {
				return
			}
		}
	}
}

// field is a column that says what a record says. T is what a row is about.
type field[T any] struct {
	column, about string
	form          form
	way           []string // the keys that lead to its value; none where it cannot be changed
	needed        bool     // in every new record
	get           func(T) string
	own           func(T) string // what the record itself says, where get fills in what else holds; may be nil
}

// says says whether a cell says what a record says.
func (f field[T]) says(of T, cell string) bool {
	return f.form.same(f.get(of), cell) || f.own != nil && f.form.same(f.own(of), cell)
}

// recordTable is a table with a row for each record of a kind.
type recordTable[R schema.Record] struct {
	kind    schema.Kind
	about   string
	fields  []field[R] // the first is its name
	derived []derived[R]
	list    func(*schema.Reference) *schema.Collection[R]
}

func (t recordTable[R]) write(f Facts) Table {
	return Table{
		Name: t.kind.Folder(), About: t.about,
		Columns: withChecksum(columnsOf(t.fields, t.derived)),
		Rows: rowsOf(slices.Values(t.list(f.Ref).All()), func(cells []string, r R) []string {
			return rowOf(cells, f, t.fields, t.derived, r)
		}),
	}
}

// derived is a column that is worked out.
type derived[T any] struct {
	column, about string
	get           func(Facts, T) string
}

// checksumColumn is the last column of the tables that are read in.
const checksumColumn = "checksum"

const checksumAbout = "Tells on reading in whether the row, or what the records say, was changed; leave it as it is."

// sumTexts are used again from row to row.
var sumTexts = sync.Pool{New: func() any { return new(bytes.Buffer) }}

// checksum sums up what a row says: names and cells in turn, empty cells left
// out. It begins with a letter, lest a spreadsheet take it for a number.
func checksum(named func(yield func(column, cell string) bool)) string {
	text := sumTexts.Get().(*bytes.Buffer)
	defer sumTexts.Put(text)
	text.Reset()
	for column, cell := range named {
		if cell = tidy(cell); cell != "" {
			text.WriteString(column)
			text.WriteByte(0)
			text.WriteString(cell)
			text.WriteByte(0)
		}
	}
	sum := sha256.Sum256(text.Bytes())
	return "r" + hex.EncodeToString(sum[:5])
}

// columnsOf lists the columns of a table.
func columnsOf[T any](fields []field[T], more []derived[T]) []Column {
	var all []Column
	for _, f := range fields {
		all = append(all, Column{Name: f.column, About: f.about})
	}
	for _, d := range more {
		all = append(all, Column{Name: d.column, About: d.about, Derived: true})
	}
	return all
}

// cellsOf appends what a record says, one cell a field.
func cellsOf[T any](cells []string, fields []field[T], of T) []string {
	for _, f := range fields {
		cells = append(cells, f.get(of))
	}
	return cells
}

// sumOf is the checksum of a record's own cells.
func sumOf[T any](fields []field[T], cells []string) string {
	return checksum(func(yield func(string, string) bool) {
		for i, f := range fields {
			if !yield(f.column, cells[i]) {
				return
			}
		}
	})
}

// rowOf appends a whole row: what the record says, what is worked out, the checksum.
func rowOf[T any](cells []string, facts Facts, fields []field[T], more []derived[T], of T) []string {
	cells = cellsOf(cells, fields, of)
	sum := sumOf(fields, cells)
	for _, d := range more {
		cells = append(cells, d.get(facts, of))
	}
	return append(cells, sum)
}

// flagCell writes a flag, and nothing for one that is not written.
func flagCell(f schema.Flag) string {
	switch {
	case f.Pos.IsZero():
		return ""
	case f.Value:
		return "yes"
	}
	return "no"
}

// textCells gives the words of a list.
func textCells(list []schema.Text) string { return joinParts(schema.Texts(list)) }

// citeCells gives citations as records write them.
func citeCells(list []schema.Citation) string {
	parts := make([]string, len(list))
	for i, c := range list {
		parts[i] = c.String()
	}
	return joinParts(parts)
}

// address is where a page stands on the public site, or within it where the
// reference has no public address.
func address(f Facts, page string) string {
	if base := f.Ref.Settings.PublicURL.Value; base != "" {
		return strings.TrimRight(base, "/") + "/" + page
	}
	return page
}
