package sheets

import (
	"fmt"
	"slices"

	"yearmark/exchange/editing"
	"yearmark/schema"
)

// intake turns rows into drafts of records.
type intake struct {
	ref    *schema.Reference
	name   string
	sheet  *sheet // nil where what comes in is no table
	drafts map[string]*draft
	shut   map[string]error // records that cannot be edited
	result Plan
	faults Problems // what is no cell's fault
}

func newIntake(ref *schema.Reference, name string) *intake {
	return &intake{ref: ref, name: name, drafts: map[string]*draft{}, shut: map[string]error{}}
}

// table reads the rows as what the first columns say they are.
func (in *intake) table() error {
	switch {
	case in.has("claim"):
		in.claims()
	case in.has("place"):
		in.places()
	case in.has("source"):
		in.sources()
	case in.has("example"):
		in.examples()
	case in.has("feature"):
		return Problems{{File: in.name, Line: 1, Message: "features are not read from a table", Help: "Change them in their records, in the folder features."}}
	default:
		return Problems{{File: in.name, Line: 1, Message: "none of the columns is called claim, place, source or example", Help: "Begin with a table that \"yearmark tables\" wrote, and keep its first row."}}
	}
	return nil
}

func (in *intake) has(column string) bool { _, ok := in.sheet.at[column]; return ok }

// draft opens a record for changes; a record that cannot be changed is a
// problem of the row.
func (in *intake) draft(r schema.Record, row int, column string) *draft {
	file := r.Header().File
	if d, ok := in.drafts[file]; ok {
		return d
	}
	err, known := in.shut[file]
	if !known {
		var d *draft
		if d, err = openDraft(r); err == nil {
			in.drafts[file] = d
			return d
		}
		in.shut[file] = err
	}
	in.sheet.report(row, column, err.Error(), "Mend the record first: \"yearmark check\" says what is wrong.")
	return nil
}

// gone says that a row was written for something that is no longer there.
func (in *intake) gone(row sheetRow, column, key string, known func() []string) bool {
	sum, _ := in.sheet.cell(row, checksumColumn)
	if key == "" || sum == "" {
		return false
	}
	help := "If it is new, empty the cell below “checksum”; if it was taken out of the records, delete the row."
	if near, ok := schema.Nearest(key, known()); ok {
		help = fmt.Sprintf("Did you mean %q? ", near) + help
	}
	in.sheet.report(row.number, column, fmt.Sprintf("there is no %s %q", column, clip(key)), help)
	return true
}

func columnNames[T any](fields []field[T], more []derived[T]) []string {
	names := []string{checksumColumn}
	for _, f := range fields {
		names = append(names, f.column)
	}
	for _, d := range more {
		names = append(names, d.column)
	}
	return names
}

// differ compares a row with what a record says and gives the edits that make
// the record say what the row says.
func differ[T any](in *intake, row sheetRow, fields []field[T], of T) []editing.Edit {
	var edits []editing.Edit
	for _, f := range fields {
		cell, there := in.sheet.cell(row, f.column)
		now := f.get(of)
		switch {
		case !there || f.form.same(now, cell) || f.way == nil && cell == "":
		case f.way == nil:
			in.sheet.report(row.number, f.column, fmt.Sprintf("the cell says %q, the record %q", clip(cell), clip(now)), "This cannot be changed in a table. Write it as it was, or make a new row for something new.")
		default:
			value, wrong := f.form.read(cell)
			if wrong != nil {
				in.sheet.report(row.number, f.column, wrong.message, wrong.help)
				continue
			}
			old, _ := f.form.read(now)
			edits = append(edits, editing.Edit{Keys: f.way, Old: old, New: value})
		}
	}
	return edits
}

// fresh says whether a changed row may be taken over: the record must not
// have been changed since the table was written. A row that nobody changed
// since then is left, with a note.
func (in *intake) fresh(row sheetRow, sum string, rowSum func() string, what string) bool {
	written, _ := in.sheet.cell(row, checksumColumn)
	switch {
	case written == "" || written == sum:
		return true
	case written == rowSum():
		in.result.Same++
		in.note("row %d is left: %s was changed in the records after the table was written", row.number, what)
		return false
	}
	in.sheet.report(row.number, checksumColumn, fmt.Sprintf("%s was changed in the records after the table was written, and the row says something else again", what), "Write the table anew with \"yearmark tables\" and repeat the change; or empty this cell, and the row counts.")
	return false
}

func (in *intake) note(format string, args ...any) {
	in.result.Notes = append(in.result.Notes, fmt.Sprintf(format, args...))
}

// rowSum is the checksum of a row's own cells.
func rowSum[T any](in *intake, row sheetRow, fields []field[T]) string {
	cells := make([]string, len(fields))
	for i, f := range fields {
		cells[i], _ = in.sheet.cell(row, f.column)
	}
	return sumOf(fields, cells)
}

// fieldColumn names the column whose way is the longest beginning of a way.
func fieldColumn[T any](way []string, fields []field[T]) string {
	best, length := "", 0
	for _, f := range fields {
		if n := len(f.way); n > length && n <= len(way) && slices.Equal(f.way, way[:n]) {
			best, length = f.column, n
		}
	}
	return best
}

// mismatch names the first column in which a record says something else than a row.
func mismatch[T any](in *intake, row sheetRow, fields []field[T], of T) string {
	for _, f := range fields {
		cell, there := in.sheet.cell(row, f.column)
		empty := cell == "" && f.way == nil // a name that was left to be made up
		if there && !empty && !f.form.same(f.get(of), cell) {
			return f.column
		}
	}
	return ""
}

// start takes a new record up, unless its name cannot be a file's.
func (in *intake) start(d *draft, row sheetRow, kind schema.Kind, id string) bool {
	if fault, ok := schema.NameFault(kind, id); !ok {
		in.sheet.report(row.number, string(kind), fmt.Sprintf("%q cannot be a record's name: %s", clip(id), fault.Message), "Write small letters a to z, digits and hyphens.")
		return false
	}
	in.drafts[d.file] = d
	in.result.Added++
	return true
}

// read reads every cell of a row that goes into a record.
func read[T any](in *intake, row sheetRow, fields []field[T]) []editing.Edit {
	var edits []editing.Edit
	for _, f := range fields {
		cell, _ := in.sheet.cell(row, f.column)
		if f.way == nil || cell == "" {
			continue
		}
		value, wrong := f.form.read(cell)
		if wrong != nil {
			in.sheet.report(row.number, f.column, wrong.message, wrong.help)
			continue
		}
		edits = append(edits, editing.Edit{Keys: f.way, New: value})
	}
	return edits
}
