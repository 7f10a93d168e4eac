package sheets

import (
	"fmt"
	"slices"

	"yearmark/exchange/editing"
	"yearmark/schema"
	"yearmark/schema/english"
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

	named          map[string]int       // the rows by what they are about
	shownOtherwise map[string]cellCount // by column, what a spreadsheet shows otherwise
}

// cellCount counts the cells of a column in which a spreadsheet shows what the
// records have in its own way.
type cellCount struct {
	rows      int
	now, cell string // of the first
}

func newIntake(ref *schema.Reference, name string) *intake {
	return &intake{ref: ref, name: name, drafts: map[string]*draft{}, shut: map[string]error{}, named: map[string]int{}, shownOtherwise: map[string]cellCount{}}
}

// table reads the rows as what the first columns say they are.
func (in *intake) table() error {
	for _, l := range listTables {
		if l.isThat(in) {
			l.takeIn(in)
			return nil
		}
	}
	switch {
	case in.has("claim"), in.has("feature") && (in.has("model") || in.has("maker")):
		in.claims()
	case in.has("example"):
		in.examples()
	case in.has("source"):
		sources.read(in)
	case in.has("feature"):
		in.features()
	case in.has("model"):
		models.read(in)
	case in.has("maker"):
		makers.read(in)
	default:
		return Problems{{File: in.name, Line: 1, Message: "none of the columns names what the table is about: claim, place, source, example, feature, model, maker or the like", Help: "Begin with a table that \"yearmark tables\" wrote, and keep its first row."}}
	}
	return nil
}

// How a row for something new is written.
const (
	otherName = "write another name in one of them"
	noName    = "empty this cell"
)

// once says whether no row before is about the same, by its name in a column;
// an empty name is that of something new. forNew says how something new is written.
func (in *intake) once(row sheetRow, column, name, forNew string) bool {
	if first := in.named[name]; name != "" && first > 0 {
		in.sheet.report(row.number, column, fmt.Sprintf("the %s %q is in row %d already", column, english.Clip(name, maxShown), first), "Keep one of the two rows; for something new, "+forNew+".")
		return false
	}
	in.named[name] = row.number
	return true
}

// says says whether a cell says what a record says, and counts where it does
// so only in a spreadsheet's own way.
func (in *intake) says(column string, f form, now, cell string) bool {
	if !f.same(now, cell) {
		return false
	}
	if shownAs(tidy(now), tidy(cell)) {
		s, again := in.shownOtherwise[column]
		if !again {
			s.now, s.cell = now, cell
		}
		s.rows++
		in.shownOtherwise[column] = s
	}
	return true
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

// change makes edits below a path of a draft and ties their row to them; what
// cannot be done is a problem of the row.
func (in *intake) change(d *draft, path, order []string, edits []editing.Edit, row draftRow) {
	if err := d.edit.Change(path, order, edits); err != nil {
		in.sheet.report(row.row, "", err.Error(), "Make this change in the record itself.")
		return
	}
	d.rows = append(d.rows, row)
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
	in.sheet.report(row.number, column, fmt.Sprintf("there is no %s %q", column, english.Clip(key, maxShown)), help)
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
		case !there || in.says(f.column, f.form, now, cell) || f.says(of, cell) || f.way == nil && cell == "":
		case f.way == nil:
			in.sheet.report(row.number, f.column, fmt.Sprintf("the cell says %q, the record %q", english.Clip(cell, maxShown), english.Clip(now, maxShown)), "This cannot be changed in a table. Write it as it was, or make a new row for something new.")
		default:
			value, ok := in.value(row, f.column, f.form, cell)
			if !ok {
				continue
			}
			if f.own != nil {
				now = f.own(of)
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

// value reads a cell, and says where it is taken for something else than it says.
func (in *intake) value(row sheetRow, column string, f form, cell string) (*editing.Value, bool) {
	value, wrong := f.read(cell)
	if wrong != nil {
		in.sheet.report(row.number, column, wrong.message, wrong.help)
		return nil, false
	}
	if meant := f.meant(cell); meant != cell {
		in.note("row %d, column %q: %q is read as %s", row.number, column, english.Clip(cell, maxShown), meant)
	}
	return value, true
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
		if there && !empty && !f.says(of, cell) {
			return f.column
		}
	}
	return ""
}

// start takes a new record up, unless its name cannot be a file's.
func (in *intake) start(d *draft, row sheetRow, kind schema.Kind, id string) bool {
	if fault, ok := schema.NameFault(kind, id); !ok {
		in.sheet.report(row.number, string(kind), fmt.Sprintf("%q cannot be a record's name: %s", english.Clip(id, maxShown), fault.Message), "Write small letters a to z, digits and hyphens.")
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
		if value, ok := in.value(row, f.column, f.form, cell); ok {
			edits = append(edits, editing.Edit{Keys: f.way, New: value})
		}
	}
	return edits
}
