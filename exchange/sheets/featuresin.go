package sheets

import (
	"fmt"
	"slices"

	"yearmark/exchange/editing"
	"yearmark/schema"
	"yearmark/schema/english"
)

// featureRows are the rows of one feature, one a value, in the table's order.
type featureRows struct {
	id   string
	rows []sheetRow
	// said are the cells that are about the feature itself and say something new.
	said map[string]sheetRow
}

// ofFeature and ofOneValue are the fields of a feature itself and of its values.
var ofFeature, ofOneValue = func() (feature, value []field[valueOf]) {
	for _, f := range featureFields {
		if len(f.way) > 0 && f.way[0] == valuesKey {
			value = append(value, f)
		} else {
			feature = append(feature, f)
		}
	}
	return feature, value
}()

// features reads a table of features.
func (in *intake) features() {
	in.result.Table = "features"
	in.know(columnNames(featureFields, featureDerived), nil)
	var all []*featureRows
	for _, row := range in.sheet.rows {
		id, _ := in.sheet.cell(row, "feature")
		value, _ := in.sheet.cell(row, "value")
		if id == "" {
			in.sheet.report(row.number, "feature", "the row does not name its feature", fmt.Sprintf("Write the name of the feature's record, in small letters, digits and hyphens%s.", in.proposed(row)))
			continue
		}
		if first := in.named[id+"/"+value]; first > 0 {
			in.sheet.report(row.number, "value", fmt.Sprintf("the value %q of %q is in row %d already", english.Clip(value, maxShown), english.Clip(id, maxShown), first), "Keep one of the two rows; for a new value, write another name in one of them.")
			continue
		}
		in.named[id+"/"+value] = row.number
		at := slices.IndexFunc(all, func(g *featureRows) bool { return g.id == id })
		if at < 0 {
			at = len(all)
			all = append(all, &featureRows{id: id, said: map[string]sheetRow{}})
		}
		all[at].rows = append(all[at].rows, row)
	}
	for _, g := range all {
		if f, ok := in.ref.Features.Get(g.id); ok {
			in.oldFeature(g, f)
		} else if !slices.ContainsFunc(g.rows, func(row sheetRow) bool {
			return in.gone(row, "feature", g.id, func() []string { return idsOf(&in.ref.Features) })
		}) {
			in.newFeature(g)
		}
	}
}

// oldFeature takes the rows of a feature that is there.
func (in *intake) oldFeature(g *featureRows, f *schema.Feature) {
	var edits []editing.Edit
	for _, row := range g.rows {
		id, _ := in.sheet.cell(row, "value")
		v, known := f.Value(id)
		isNew := !known && id != ""
		if isNew && in.gone(row, "value", id, func() []string { return valueIDs(f) }) {
			continue
		}
		of := valueOf{f, v}
		changes := differ(in, row, ofFeature, of)
		var changed []editing.Edit
		if sum, _ := in.sheet.cell(row, checksumColumn); sum == "" { // a row with the value alone says nothing of the feature
			changes = slices.DeleteFunc(changes, func(e editing.Edit) bool { return e.New == nil })
		}
		if !isNew {
			changed = differ(in, row, ofOneValue, of)
		}
		sum := sumOf(featureFields, cellsOf(nil, featureFields, of))
		switch {
		case len(changes)+len(changed) == 0 && !isNew:
			in.result.Same++
			continue
		case !isNew && !in.fresh(row, sum, func() string { return rowSum(in, row, featureFields) }, fmt.Sprintf("the feature %q", f.ID)):
			continue
		}
		edits = append(edits, in.firstToSay(g, row, changes)...)
		if isNew {
			in.newValue(f, row)
		} else {
			in.result.Edited++
			in.oldValue(f, row, id, changed)
		}
	}
	if len(edits) == 0 {
		return
	}
	d := in.draft(f, g.rows[0].number, "feature")
	if d == nil {
		return
	}
	in.change(d, nil, nil, edits, in.featureRow(g))
}

// firstToSay gives the changes of a feature that no row before made; two rows
// that make different ones are a problem.
func (in *intake) firstToSay(g *featureRows, row sheetRow, edits []editing.Edit) []editing.Edit {
	return slices.DeleteFunc(edits, func(e editing.Edit) bool {
		column := fieldColumn(e.Keys, ofFeature)
		before, again := g.said[column]
		if !again {
			g.said[column] = row
			return false
		}
		was, _ := in.sheet.cell(before, column)
		if now, _ := in.sheet.cell(row, column); now != was {
			in.sheet.report(row.number, column, fmt.Sprintf("the cell says %q, and row %d says %q of the same feature", english.Clip(now, maxShown), before.number, english.Clip(was, maxShown)), "Write the same in both; one of them is enough, the other may stay as it was.")
		}
		return true
	})
}

func valueIDs(f *schema.Feature) []string {
	var all []string
	for _, v := range valuesOf(f) {
		if v != nil {
			all = append(all, v.ID.Value)
		}
	}
	return all
}

func (in *intake) oldValue(f *schema.Feature, row sheetRow, id string, edits []editing.Edit) {
	if len(edits) == 0 {
		return
	}
	d := in.draft(f, row.number, "value")
	if d == nil {
		return
	}
	at := slices.IndexFunc(f.Values, func(v *schema.FeatureValue) bool { return v.ID.Value == id })
	if at < 0 {
		in.sheet.report(row.number, fieldColumn(edits[0].Keys, ofOneValue), fmt.Sprintf("the record of %q does not write its value %q out, so nothing can be said of it", f.ID, english.Clip(id, maxShown)), "Empty the cell.")
		return
	}
	in.change(d, pathTo(valuesKey, at), editing.KeyOrder(schema.FeatureValue{}), below(edits), in.valueRow(row, at))
}

// below takes the key of the values off edits of one of them.
func below(edits []editing.Edit) []editing.Edit {
	for i := range edits {
		edits[i].Keys = edits[i].Keys[1:]
	}
	return edits
}

func (in *intake) newValue(f *schema.Feature, row sheetRow) {
	d := in.draft(f, row.number, "feature")
	if d == nil {
		return
	}
	at := d.edit.Add([]string{valuesKey}, editing.MappingOf(below(read(in, row, ofOneValue)), editing.KeyOrder(schema.FeatureValue{})))
	in.result.Added++
	d.rows = append(d.rows, in.valueRow(row, at))
}

// newFeature makes a record of the rows of a feature that is not there.
func (in *intake) newFeature(g *featureRows) {
	var edits []editing.Edit
	var values []*editing.Value
	var rows []draftRow
	for _, row := range g.rows {
		edits = append(edits, in.firstToSay(g, row, read(in, row, ofFeature))...)
		value := editing.MappingOf(below(read(in, row, ofOneValue)), editing.KeyOrder(schema.FeatureValue{}))
		if id := value.Key("id"); id != nil && !in.isPresence(g) {
			rows = append(rows, in.valueRow(row, len(values)))
			values = append(values, value)
		}
	}
	if len(values) > 0 {
		edits = append(edits, editing.Edit{Keys: []string{valuesKey}, New: editing.List(values...)})
	}
	first := g.rows[0]
	for _, f := range ofFeature {
		if _, said := g.said[f.column]; f.needed && !said && !needed(in, first, schema.KindFeature, []field[valueOf]{f}) {
			return
		}
	}
	d := newDraft(schema.KindFeature, g.id, editing.MappingOf(edits, editing.KeyOrder(&schema.Feature{})))
	if in.start(d, first, schema.KindFeature, g.id) {
		d.rows = append(rows, in.featureRow(g))
	}
}

// isPresence says whether the rows are of a feature whose two values need not be declared.
func (in *intake) isPresence(g *featureRows) bool {
	return slices.ContainsFunc(g.rows, func(row sheetRow) bool {
		kind, _ := in.sheet.cell(row, "kind")
		return schema.FeatureKind(kind) == schema.Presence
	})
}

// featureRow ties what rows say of a feature itself to its draft.
func (in *intake) featureRow(g *featureRows) draftRow {
	return draftRow{
		row:    g.rows[0].number,
		column: func(_ *schema.Located, way []string) string { return fieldColumn(way, ofFeature) },
		check: func(now schema.Record) string {
			f, ok := now.(*schema.Feature)
			if !ok {
				return "feature"
			}
			for _, of := range ofFeature {
				row, said := g.said[of.column]
				if !said {
					continue
				}
				if cell, _ := in.sheet.cell(row, of.column); !of.says(valueOf{f, nil}, cell) {
					return of.column
				}
			}
			return ""
		},
	}
}

// valueRow ties a row to its value in the draft.
func (in *intake) valueRow(row sheetRow, at int) draftRow {
	return draftRow{
		row: row.number, key: valuesKey, index: at,
		column: func(_ *schema.Located, way []string) string {
			return fieldColumn(append([]string{valuesKey}, way...), ofOneValue)
		},
		check: func(now schema.Record) string {
			f, ok := now.(*schema.Feature)
			if !ok || at >= len(f.Values) {
				return "value"
			}
			return mismatch(in, row, ofOneValue, valueOf{f, f.Values[at]})
		},
	}
}
