package sheets

import (
	"fmt"

	"yearmark/exchange/editing"
	"yearmark/schema"
	"yearmark/schema/english"
)

func (l *list[T]) isThat(in *intake) bool { return in.has(l.item) && in.has(string(l.kind)) }

// takeIn reads a table of such items.
func (l *list[T]) takeIn(in *intake) {
	in.result.Table = l.name
	fields := l.fields()
	in.know(columnNames(fields, l.derived()), nil)
	known := map[string]listed[T]{}
	for x := range l.all(in.ref) {
		known[x.name()] = x
	}
	for _, row := range in.sheet.rows {
		if l.kind == schema.KindExample {
			in.restoreZeros(row, l.item)
			in.restoreZeros(row, string(l.kind))
		}
		name, _ := in.sheet.cell(row, l.item)
		if !in.once(row, l.item, name, noName) {
			continue
		}
		if x, ok := known[name]; ok {
			l.changed(in, row, fields, x)
		} else if name != "" {
			in.sheet.report(row.number, l.item, fmt.Sprintf("there is no %s %q", l.item, english.Clip(name, maxShown)), "Leave this cell empty for a new row; what was taken out of the records needs none.")
		} else {
			l.added(in, row, fields)
		}
	}
}

func (l *list[T]) changed(in *intake, row sheetRow, fields []field[listed[T]], x listed[T]) {
	edits := differ(in, row, fields, x)
	if len(edits) == 0 {
		in.result.Same++
		return
	}
	sum := sumOf(fields, cellsOf(nil, fields, x))
	if !in.fresh(row, sum, func() string { return rowSum(in, row, fields) }, fmt.Sprintf("%q", x.name())) {
		return
	}
	d := in.draft(x.home, row.number, l.item)
	if d == nil {
		return
	}
	in.result.Edited++
	in.change(d, pathTo(l.key, x.index), editing.KeyOrder(x.it), edits, l.row(in, row, x.index))
}

// added adds an item to its record, unless the record says the same already.
func (l *list[T]) added(in *intake, row sheetRow, fields []field[listed[T]]) {
	id, _ := in.sheet.cell(row, string(l.kind))
	home, ok := in.ref.Record(l.kind, id)
	if !ok {
		var ids []string
		for _, r := range in.ref.RecordsOf(l.kind) {
			ids = append(ids, r.Header().ID)
		}
		in.sheet.report(row.number, string(l.kind), fmt.Sprintf("there is no %s %q", l.kind, english.Clip(id, maxShown)), nearestRecord(id, ids, l.kind.Folder()))
		return
	}
	there := l.items(home)
	for i, it := range there {
		x := listed[T]{home, i, it}
		if mismatch(in, row, l.own, x) == "" && !saysMore(in, l.own, x) {
			in.result.Same++
			in.note("row %d is left: %s %q says the same", row.number, l.kind, id)
			return
		}
	}
	if l.single && len(there) > 0 {
		in.sheet.report(row.number, l.item, fmt.Sprintf("%q has %s already", id, l.key), fmt.Sprintf("Write %s into this cell to change them.", id))
		return
	}
	d := in.draft(home, row.number, string(l.kind))
	if d == nil {
		return
	}
	var none T
	item := editing.MappingOf(read(in, row, fields), editing.KeyOrder(none))
	in.result.Added++
	if l.single {
		in.change(d, nil, nil, []editing.Edit{{Keys: []string{l.key}, New: item}}, l.row(in, row, -1))
		return
	}
	d.rows = append(d.rows, l.row(in, row, d.edit.Add([]string{l.key}, item)))
}

// row ties a row to its item in the draft.
func (l *list[T]) row(in *intake, row sheetRow, index int) draftRow {
	return draftRow{
		row: row.number, key: l.key, index: index,
		column: func(_ *schema.Located, way []string) string { return fieldColumn(way, l.own) },
		check: func(now schema.Record) string {
			items := l.items(now)
			if at := max(index, 0); at < len(items) {
				return mismatch(in, row, l.own, listed[T]{now, index, items[at]})
			}
			return l.item
		},
	}
}
