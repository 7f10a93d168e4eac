package search

import (
	"slices"

	"yearmark/schema"
	"yearmark/schema/edtf"
)

// rests is what the documents of one record rest on besides the record itself:
// other records, as they were, and years that were worked out.
type rests struct {
	records []restsOn
	years   []restsOnYears
}

// recordName is what records are asked for by.
type recordName struct {
	kind schema.Kind
	id   string
}

type restsOn struct {
	kind schema.Kind
	id   string
	was  schema.Record // holds a nil pointer where nobody answered to the name
}

type restsOnYears struct {
	claim *schema.Claim
	were  edtf.Range
}

// on notes that a record was asked for.
func (r *rests) on(kind schema.Kind, id string, was schema.Record) {
	if one := (restsOn{kind, id, was}); r != nil && !slices.Contains(r.records, one) {
		r.records = append(r.records, one)
	}
}

// onYears notes that the years of a claim were asked for.
func (r *rests) onYears(c *schema.Claim, were edtf.Range) {
	if one := (restsOnYears{c, were}); r != nil && !slices.Contains(r.years, one) {
		r.years = append(r.years, one)
	}
}

// hold says that all of it is still so. changed names every record that is
// another than before, or nil where that is not known.
func (r *rests) hold(w *writer, changed map[recordName]bool) bool {
	for _, on := range r.records {
		if (changed == nil || changed[recordName{on.kind, on.id}]) && on.was != w.named(on.kind, on.id) {
			return false
		}
	}
	for _, on := range r.years {
		if on.were != rangeOf(w.years(on.claim)) {
			return false
		}
	}
	return true
}

// named gives the record of that kind and name as restsOn keeps it.
func (w *writer) named(kind schema.Kind, id string) schema.Record {
	switch kind {
	case schema.KindMaker:
		m, _ := w.ref.Makers.Get(id)
		return m
	case schema.KindModel:
		m, _ := w.ref.Models.Get(id)
		return m
	}
	f, _ := w.ref.Features.Get(id)
	return f
}
