package sheets

import (
	"fmt"

	"yearmark/exchange/editing"
	"yearmark/schema"
	"yearmark/schema/english"
)

const placesKey = "places"

func (in *intake) oldPlace(row sheetRow, p sourcePlace) {
	edits := differ(in, row, placeFields, p)
	if len(edits) == 0 {
		in.result.Same++
		return
	}
	sum := sumOf(placeFields, cellsOf(nil, placeFields, p))
	if !in.fresh(row, sum, func() string { return rowSum(in, row, placeFields) }, fmt.Sprintf("the place %q", p.name())) {
		return
	}
	d := in.draft(p.source, row.number, "place")
	if d == nil {
		return
	}
	in.result.Edited++
	if err := d.edit.Change(pathTo(placesKey, p.index), editing.KeyOrder(p.SourcePlace), edits); err != nil {
		in.sheet.report(row.number, "", err.Error(), "Make this change in the record itself.")
		return
	}
	d.rows = append(d.rows, in.placeRow(row, p.index))
}

// newPlace adds a place to its source, unless the source says the same already.
func (in *intake) newPlace(row sheetRow) {
	id, _ := in.sheet.cell(row, "source")
	s, ok := in.ref.Sources.Get(id)
	if !ok {
		in.sheet.report(row.number, "source", fmt.Sprintf("there is no source %q", english.Clip(id, maxShown)), nearestRecord(id, idsOf(&in.ref.Sources), "sources"))
		return
	}
	for i, p := range s.Places {
		if mismatch(in, row, placeFields[2:], sourcePlace{s, i, p}) == "" && !saysMore(in, placeFields, sourcePlace{s, i, p}) {
			in.result.Same++
			in.note("row %d is left: the place %q says the same", row.number, sourcePlace{s, i, p}.name())
			return
		}
	}
	d := in.draft(s, row.number, "source")
	if d == nil {
		return
	}
	index := d.edit.Add([]string{placesKey}, editing.MappingOf(read(in, row, placeFields), editing.KeyOrder(schema.SourcePlace{})))
	in.result.Added++
	d.rows = append(d.rows, in.placeRow(row, index))
}

// placeRow ties a row to its place in the draft.
func (in *intake) placeRow(row sheetRow, index int) draftRow {
	return draftRow{
		row: row.number, key: placesKey, index: index,
		column: func(_ *schema.Located, way []string) string { return fieldColumn(way, placeFields) },
		check: func(now schema.Record) string {
			s, ok := now.(*schema.Source)
			if !ok || index >= len(s.Places) {
				return "place"
			}
			return mismatch(in, row, placeFields[2:], sourcePlace{s, index, s.Places[index]})
		},
	}
}
