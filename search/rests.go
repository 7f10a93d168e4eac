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
	works   []restsOnWork
}

// recordName is what records are asked for by.
type recordName struct {
	kind schema.Kind
	id   string
}

func nameOf(r schema.Record) recordName { return recordName{r.Header().Kind, r.Header().ID} }

type restsOn struct {
	kind schema.Kind
	id   string
	was  schema.Record // holds a nil pointer where nobody answered to the name
}

type restsOnYears struct {
	claim *schema.Claim
	were  edtf.Range
}

// restsOnWork is the work that years of the claims of one record came from.
type restsOnWork struct {
	claim *schema.Claim // one of them
	was   any
}

// on notes that a record was asked for.
func (r *rests) on(kind schema.Kind, id string, was schema.Record) {
	if one := (restsOn{kind, id, was}); r != nil && !slices.Contains(r.records, one) {
		r.records = append(r.records, one)
	}
}

// onYears notes that the years of a claim were asked for, and what they came from.
func (r *rests) onYears(c *schema.Claim, were edtf.Range, work func(*schema.Claim) any) {
	if r == nil {
		return
	}
	if one := (restsOnYears{c, were}); !slices.Contains(r.years, one) {
		r.years = append(r.years, one)
	}
	if !slices.ContainsFunc(r.works, func(w restsOnWork) bool { return w.claim.Model == c.Model && w.claim.Maker == c.Maker }) {
		r.works = append(r.works, restsOnWork{c, work(c)})
	}
}

// hold says that all of it is still so. changed names every record that is
// another than before, or is nil where that is not known.
func (r *rests) hold(w *writer, changed []recordName) bool {
	for _, on := range r.records {
		if (changed == nil || slices.Contains(changed, recordName{on.kind, on.id})) && on.was != w.named(on.kind, on.id) {
			return false
		}
	}
	return r.sameWork(w) || r.sameYears(w)
}

// sameWork says that all years came from work that is still good.
func (r *rests) sameWork(w *writer) bool {
	return !slices.ContainsFunc(r.works, func(on restsOnWork) bool { return on.was == nil || on.was != w.work(on.claim) })
}

// sameYears says that all years are as they were, and notes what they now come from.
func (r *rests) sameYears(w *writer) bool {
	for _, on := range r.years {
		if on.were != rangeOf(w.years(on.claim)) {
			return false
		}
	}
	for i := range r.works {
		r.works[i].was = w.work(r.works[i].claim)
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
