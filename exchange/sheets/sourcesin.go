package sheets

import (
	"fmt"

	"yearmark/exchange/editing"
	"yearmark/schema"
	"yearmark/schema/english"
)

// sources reads a table of sources.
func (in *intake) sources() {
	in.result.Table = "sources"
	in.sheet.know(columnNames(sourceFields, sourceDerived), nil)
	first := map[string]int{}
	for _, row := range in.sheet.rows {
		id, _ := in.sheet.cell(row, "source")
		if id == "" {
			in.sheet.report(row.number, "source", "the row does not name its source", "Write the name that the source is cited by, in small letters, digits and hyphens: list-1964.")
			continue
		}
		if first[id] > 0 {
			in.sheet.report(row.number, "source", fmt.Sprintf("the source %q is in row %d already", english.Clip(id, maxShown), first[id]), "Keep one of the two rows.")
			continue
		}
		first[id] = row.number
		if s, ok := in.ref.Sources.Get(id); ok {
			in.oldSource(row, s)
		} else if !in.gone(row, "source", id, func() []string { return idsOf(&in.ref.Sources) }) {
			in.newSource(row, id)
		}
	}
}

func (in *intake) oldSource(row sheetRow, s *schema.Source) {
	edits := differ(in, row, sourceFields, s)
	if len(edits) == 0 {
		in.result.Same++
		return
	}
	sum := sumOf(sourceFields, cellsOf(nil, sourceFields, s))
	if !in.fresh(row, sum, func() string { return rowSum(in, row, sourceFields) }, fmt.Sprintf("the source %q", s.ID)) {
		return
	}
	d := in.draft(s, row.number, "source")
	if d == nil {
		return
	}
	in.result.Edited++
	if err := d.edit.Change(nil, nil, edits); err != nil {
		in.sheet.report(row.number, "", err.Error(), "Make this change in the record itself.")
		return
	}
	d.rows = append(d.rows, in.sourceRow(row))
}

func (in *intake) sourceRow(row sheetRow) draftRow {
	return draftRow{
		row:    row.number,
		column: func(_ *schema.Located, way []string) string { return fieldColumn(way, sourceFields) },
		check: func(now schema.Record) string {
			s, ok := now.(*schema.Source)
			if !ok {
				return "source"
			}
			return mismatch(in, row, sourceFields, s)
		},
	}
}

func (in *intake) newSource(row sheetRow, id string) {
	keys := editing.MappingOf(read(in, row, sourceFields), editing.KeyOrder(&schema.Source{}))
	d := newDraft(schema.KindSource, id, keys)
	if !in.start(d, row, schema.KindSource, id) {
		return
	}
	d.rows = append(d.rows, in.sourceRow(row))
}
