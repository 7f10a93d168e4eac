package sheets

import (
	"fmt"
	"maps"
	"slices"
	"strconv"
	"strings"

	"yearmark/exchange/editing"
	"yearmark/schema"
	"yearmark/schema/english"
)

// examples reads a table of examples.
func (in *intake) examples() {
	in.result.Table = "examples"
	observed := in.observedColumns()
	for _, row := range in.sheet.rows {
		in.restoreZeros(row, "example")
		id, _ := in.sheet.cell(row, "example")
		if !in.once(row, "example", id, noName) {
			continue
		}
		if e, ok := in.ref.Examples.Get(id); ok {
			in.oldExample(row, e, observed)
		} else if !in.gone(row, "example", id, func() []string { return idsOf(&in.ref.Examples) }) {
			in.newExample(row, id, observed)
		}
	}
}

// restoreZeros gives a cell its example's whole name where a spreadsheet took
// the zeros off: 7 of 0007, 7/1 of 0007/1.
func (in *intake) restoreZeros(row sheetRow, column string) {
	cell, _ := in.sheet.cell(row, column)
	id, item, isItem := strings.Cut(cell, "/")
	if _, known := in.ref.Examples.Get(id); known || id == "" || strings.Trim(id, "0123456789") != "" {
		return
	}
	var meant []string
	for _, e := range in.ref.Examples.All() {
		if strings.TrimLeft(e.ID, "0") == strings.TrimLeft(id, "0") && len(e.ID) > len(id) {
			meant = append(meant, e.ID)
		}
	}
	if len(meant) != 1 {
		return
	}
	whole := meant[0]
	if isItem {
		whole += "/" + item
	}
	row.cells[in.sheet.at[column]] = whole
}

// observedColumns finds the columns of features, and refuses those of none.
func (in *intake) observedColumns() map[observedColumn]string {
	columns := map[observedColumn]string{}
	known := columnNames(exampleFields, exampleDerived)
	var features []string
	for _, c := range observedColumns(in.ref) {
		features = append(features, c.String())
	}
	in.know(append(known, features...), func(name string) bool {
		c, ok := readObservedColumn(name)
		if !ok {
			return false
		}
		_, there := in.ref.Features.Get(c.feature)
		return there
	})
	for name := range in.sheet.at {
		if slices.Contains(known, name) {
			continue
		}
		if c, ok := readObservedColumn(name); ok {
			columns[c] = name
		}
	}
	return columns
}

func (in *intake) oldExample(row sheetRow, e *schema.Example, columns map[observedColumn]string) {
	edits := differ(in, row, exampleFields, e)
	wanted := in.wanted(row, columns)
	changes, differs := in.observedEdits(row, e, wanted)
	if len(edits) == 0 && !differs {
		in.result.Same++
		return
	}
	what := fmt.Sprintf("the example %q", e.ID)
	if !in.fresh(row, exampleSum(e), func() string { return in.exampleRowSum(row, wanted) }, what) {
		return
	}
	d := in.draft(e, row.number, "example")
	if d == nil {
		return
	}
	in.result.Edited++
	if err := d.observe(edits, changes); err != nil {
		in.sheet.report(row.number, "", err.Error(), "Make this change in the record itself.")
		return
	}
	d.rows = append(d.rows, in.exampleRow(row, columns))
}

func (in *intake) exampleRow(row sheetRow, columns map[observedColumn]string) draftRow {
	return draftRow{
		row: row.number,
		check: func(now schema.Record) string {
			e, ok := now.(*schema.Example)
			if !ok {
				return "example"
			}
			return in.exampleMismatch(row, e, columns)
		},
		column: func(top *schema.Located, way []string) string {
			if len(way) > 1 && way[0] == "observed" {
				return observedAt(top, way, columns)
			}
			return fieldColumn(way, exampleFields)
		},
	}
}

// exampleMismatch names the first column in which a record says something else
// than a row.
func (in *intake) exampleMismatch(row sheetRow, e *schema.Example, columns map[observedColumn]string) string {
	if column := mismatch(in, row, exampleFields, e); column != "" {
		return column
	}
	seen := observedCells(e)
	for _, c := range slices.SortedFunc(maps.Keys(columns), observedColumn.compare) {
		if cell, _ := in.observedCell(row, c, columns); !c.form().same(seen[c], cell) {
			return columns[c]
		}
	}
	return ""
}

// observedAt names the column behind a place in the list of observations.
func observedAt(top *schema.Located, way []string, columns map[observedColumn]string) string {
	at, err := strconv.Atoi(way[1])
	items := top.Key("observed").Items
	if err != nil || at >= len(items) || items[at].Key("feature") == nil {
		return ""
	}
	c := observedColumn{feature: items[at].Key("feature").Text}
	for _, item := range items[:at+1] {
		if feature := item.Key("feature"); feature != nil && feature.Text == c.feature {
			c.number++
		}
	}
	if len(way) > 2 && way[2] != seenAspect && slices.Contains(aspects, way[2]) {
		c.aspect = way[2]
	}
	return columns[c]
}

func (c observedColumn) form() form {
	switch c.aspect {
	case seenAspect:
		return parts
	case ownAspect:
		return yesOrNo
	}
	return word
}

// wanted gives the cells of a row that are about features.
func (in *intake) wanted(row sheetRow, columns map[observedColumn]string) map[observedColumn]string {
	cells := map[observedColumn]string{}
	for c := range columns {
		written := ""
		if cells[c], written = in.observedCell(row, c, columns); cells[c] != written {
			in.note("row %d, column %q: %q is read as %s", row.number, columns[c], english.Clip(written, maxShown), cells[c])
		}
	}
	return cells
}

// observedCell gives a cell that is about a feature, and as it is written.
func (in *intake) observedCell(row sheetRow, c observedColumn, columns map[observedColumn]string) (cell, written string) {
	written, _ = in.sheet.cell(row, columns[c])
	f, ok := in.ref.Features.Get(c.feature)
	if ok && c.aspect == seenAspect && schema.FeatureKind(f.Kind.Value) == schema.Figure {
		return figures.meant(written), written
	}
	return written, written
}

func (in *intake) exampleRowSum(row sheetRow, wanted map[observedColumn]string) string {
	return checksum(func(yield func(string, string) bool) {
		for _, f := range exampleFields {
			cell, _ := in.sheet.cell(row, f.column)
			if !yield(f.column, cell) {
				return
			}
		}
		for _, c := range slices.SortedFunc(maps.Keys(wanted), observedColumn.compare) {
			if !yield(c.String(), wanted[c]) {
				return
			}
		}
	})
}

// observedEdits compares what a row says of features with the record.
func (in *intake) observedEdits(row sheetRow, e *schema.Example, wanted map[observedColumn]string) (editing.ListChange, bool) {
	change := editing.ListChange{Edits: map[int][]editing.Edit{}, Order: editing.KeyOrder(schema.Observed{})}
	now := observedCells(e)
	known := map[observedColumn]bool{}
	for i, c := range numbered(e) {
		known[c] = true
		edits, gone := in.oneObserved(row, c, now, wanted)
		if gone {
			change.Remove = append(change.Remove, i)
		} else if len(edits) > 0 {
			change.Edits[i] = edits
		}
	}
	change.Add = in.newObserved(row, wanted, known)
	return change, len(change.Edits)+len(change.Remove)+len(change.Add) > 0
}

// oneObserved compares one observation of the record with its cells.
func (in *intake) oneObserved(row sheetRow, c observedColumn, now, wanted map[observedColumn]string) (edits []editing.Edit, gone bool) {
	for _, aspect := range aspects {
		c.aspect = aspect
		cell, there := wanted[c]
		if !there || in.says(c.String(), c.form(), now[c], cell) {
			continue
		}
		if aspect == seenAspect && cell == "" {
			return nil, true
		}
		value, ok := in.value(row, c.String(), c.form(), cell)
		if !ok {
			continue
		}
		old, _ := c.form().read(now[c])
		key := aspect
		if aspect == seenAspect {
			key, value = "value", oneOrMore(value)
		}
		edits = append(edits, editing.Edit{Keys: []string{key}, Old: old, New: value})
	}
	return edits, false
}

// oneOrMore writes a list of one as a word.
func oneOrMore(f *editing.Value) *editing.Value {
	if f != nil && len(f.Items()) == 1 {
		return f.Items()[0]
	}
	return f
}

// newObserved makes the observations that the record does not have.
func (in *intake) newObserved(row sheetRow, wanted map[observedColumn]string, known map[observedColumn]bool) []*editing.Value {
	var added []*editing.Value
	for _, c := range slices.SortedFunc(maps.Keys(wanted), observedColumn.compare) {
		seen := c
		seen.aspect = seenAspect
		switch cell := wanted[c]; {
		case cell == "" || known[seen]:
		case c.aspect != seenAspect && wanted[seen] == "":
			in.sheet.report(row.number, c.String(), fmt.Sprintf("nothing is said of what was seen of %q", c.feature), fmt.Sprintf("Write what was seen in the column %q, or empty this cell.", seen.String()))
		case c.aspect == seenAspect:
			value, _ := parts.read(cell)
			item := editing.Mapping().With("feature", editing.Word(c.feature)).With("value", oneOrMore(value))
			for _, aspect := range aspects[1:] {
				c.aspect = aspect
				if more, ok := in.value(row, c.String(), c.form(), wanted[c]); ok {
					item.With(aspect, more)
				}
			}
			added = append(added, item)
		}
	}
	return added
}

// observe carries out the edits of an example.
func (d *draft) observe(edits []editing.Edit, change editing.ListChange) error {
	path := []string{"observed"}
	list := d.edit.Node(path...)
	switch {
	case list == nil || list.Kind != schema.LocatedList || len(list.Items) == 0:
		if len(change.Add) > 0 {
			d.edit.Add(path, change.Add...)
		}
	case len(change.Remove) == len(list.Items):
		all := editing.Edit{Keys: path}
		if len(change.Add) > 0 {
			all.New = editing.List(change.Add...)
		}
		edits = append(edits, all)
	default:
		if err := d.edit.ChangeList(path, change); err != nil {
			return err
		}
	}
	return d.edit.Change(nil, nil, edits)
}

// newExample makes a record of a row.
func (in *intake) newExample(row sheetRow, id string, columns map[observedColumn]string) {
	if id == "" {
		for _, e := range in.ref.Examples.All() {
			if in.exampleMismatch(row, e, columns) == "" && !saysMore(in, exampleFields, e) && covered(e, columns) {
				in.result.Same++
				in.note("row %d is left: the example %q says the same", row.number, e.ID)
				return
			}
		}
		id = in.nextNumber()
	}
	edits := read(in, row, exampleFields)
	added := in.newObserved(row, in.wanted(row, columns), nil)
	if len(added) > 0 {
		edits = append(edits, editing.Edit{Keys: []string{"observed"}, New: editing.List(added...)})
	}
	d := newDraft(schema.KindExample, id, editing.MappingOf(edits, editing.KeyOrder(&schema.Example{})))
	if !in.start(d, row, schema.KindExample, id) {
		return
	}
	d.rows = append(d.rows, in.exampleRow(row, columns))
}

// covered says that the table has a column for all that was observed on a bow.
func covered(e *schema.Example, columns map[observedColumn]string) bool {
	for c := range observedCells(e) {
		if _, ok := columns[c]; !ok {
			return false
		}
	}
	return true
}

// nextNumber is the number after those of all examples, drafts included.
func (in *intake) nextNumber() string {
	var drafted []string
	for file := range in.drafts {
		if id, ok := strings.CutPrefix(strings.TrimSuffix(file, ".md"), schema.KindExample.Folder()+"/"); ok {
			drafted = append(drafted, id)
		}
	}
	return in.ref.NextNumber(drafted...)
}
