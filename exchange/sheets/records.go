package sheets

import (
	"fmt"

	"yearmark/exchange/editing"
	"yearmark/schema"
)

// read reads a table of which each row is a record.
func (t recordTable[R]) read(in *intake) {
	in.result.Table = t.kind.Folder()
	in.know(columnNames(t.fields, t.derived), nil)
	column, list := string(t.kind), t.list(in.ref)
	for _, row := range in.sheet.rows {
		id, _ := in.sheet.cell(row, column)
		if id == "" {
			in.sheet.report(row.number, column, fmt.Sprintf("the row does not name its %s", t.kind), fmt.Sprintf("Write what the file of its record is to be called, in small letters, digits and hyphens%s.", in.proposed(row)))
			continue
		}
		if !in.once(row, column, id, otherName) {
			continue
		}
		if r, ok := list.Get(id); ok {
			t.oldRow(in, row, r)
		} else if !in.gone(row, column, id, func() []string { return idsOf(list) }) {
			t.newRow(in, row, id)
		}
	}
}

// proposed proposes a record's name by what a row calls it.
func (in *intake) proposed(row sheetRow) string {
	name, _ := in.sheet.cell(row, "name")
	if slug := schema.Slug(name); slug != "" {
		return ": " + slug
	}
	return ""
}

func (t recordTable[R]) oldRow(in *intake, row sheetRow, r R) {
	edits := differ(in, row, t.fields, r)
	if len(edits) == 0 {
		in.result.Same++
		return
	}
	id := r.Header().ID
	if in.taken(row, r) {
		return
	}
	sum := sumOf(t.fields, cellsOf(nil, t.fields, r))
	if !in.fresh(row, sum, func() string { return rowSum(in, row, t.fields) }, fmt.Sprintf("the %s %q", t.kind, id)) {
		return
	}
	d := in.draft(r, row.number, string(t.kind))
	if d == nil {
		return
	}
	in.result.Edited++
	in.change(d, nil, nil, edits, t.draftRow(in, row))
}

// taken refuses a row that was added to a table for something new, under the
// name of a record that is there and is called otherwise.
func (in *intake) taken(row sheetRow, r schema.Record) bool {
	sum, _ := in.sheet.cell(row, checksumColumn)
	name, _ := in.sheet.cell(row, "name")
	kind := r.Header().Kind
	if !in.has(checksumColumn) || sum != "" || name == "" || name == r.Title() {
		return false
	}
	in.sheet.report(row.number, string(kind), fmt.Sprintf("the name %q is taken: it is that of the %s %s", r.Header().ID, kind, r.Title()), fmt.Sprintf("Write another name here for a new %s. To change this one, change its own row, with the checksum in it.", kind))
	return true
}

func (t recordTable[R]) draftRow(in *intake, row sheetRow) draftRow {
	return draftRow{
		row:    row.number,
		column: func(_ *schema.Located, way []string) string { return fieldColumn(way, t.fields) },
		check: func(now schema.Record) string {
			r, ok := now.(R)
			if !ok {
				return string(t.kind)
			}
			return mismatch(in, row, t.fields, r)
		},
	}
}

func (t recordTable[R]) newRow(in *intake, row sheetRow, id string) {
	if !needed(in, row, t.kind, t.fields) {
		return
	}
	var none R
	d := newDraft(t.kind, id, editing.MappingOf(read(in, row, t.fields), editing.KeyOrder(none)))
	if in.start(d, row, t.kind, id) {
		d.rows = append(d.rows, t.draftRow(in, row))
	}
}

// needed wants the cells that every new record fills.
func needed[T any](in *intake, row sheetRow, kind schema.Kind, fields []field[T]) bool {
	all := true
	for _, f := range fields {
		if cell, there := in.sheet.cell(row, f.column); f.needed && cell == "" {
			help := "Fill this cell in: " + f.about
			if !there {
				help = fmt.Sprintf("Add a column %q: %s", f.column, f.about)
			}
			in.sheet.report(row.number, f.column, fmt.Sprintf("a new %s needs %q", kind, f.column), help)
			all = false
		}
	}
	return all
}
