package dating

import (
	"encoding/binary"
	"math"
	"slices"

	"yearmark/dating/odds"
	"yearmark/schema/edtf"
)

// rowWriter writes the rows of one feature, model by model.
type rowWriter struct {
	table     *odds.Table
	rates     Rates
	teach     Teaching
	rows      *rowBook
	unclaimed odds.Row // where no claim speaks

	wishes          edtf.Years // in which the maker of one model took special orders
	loose, wished   float64    // e of what is held loosely; the membership of the last row's year in wishes
	supports        []Support  // of one model
	members, before []float64
}

func (e *Engine) newRowWriter(number, pairs int) *rowWriter {
	f := &e.features[number]
	w := &rowWriter{table: e.table, rates: e.rates(f), teach: e.teach, loose: looseness(e.ref, "loose")}
	w.rows = newRowBook(odds.Feature{ID: f.ID, Outcomes: w.rates.Outcomes, RowOf: make([]uint32, 0, pairs)})
	w.unclaimed = w.rates.Row(nil, 0)
	w.rows.number(w.unclaimed)
	return w
}

// write adds the rows of a model's pairs. met, which may be nil, is what was
// met with on its bows.
func (w *rowWriter) write(model int, evidence []ClaimEvidence, met *tally) {
	w.supports, w.before = w.supports[:0], w.before[:0]
	for _, v := range evidence {
		w.supports = append(w.supports, v.Support)
	}
	row := w.unclaimed
	number := w.rows.number(row)
	w.wished = 0
	for pair := w.table.Models[model].Start; pair < w.table.Models[model].End; pair++ {
		year := int(w.table.Years[pair])
		w.members = w.members[:0]
		for i := range w.supports {
			w.members = append(w.members, w.supports[i].Years.Membership(year))
		}
		wished := w.wishes.Membership(year)
		if !slices.Equal(w.members, w.before) || wished != w.wished { // years alike share a row
			w.wished = wished
			row = w.rates.loosened(wished, w.loose).rowOf(w.supports, w.members)
			number = w.rows.number(row)
			w.members, w.before = w.before, w.members
		}
		if met == nil || met.byYear[year] == nil {
			w.rows.feature.RowOf = append(w.rows.feature.RowOf, number)
			continue
		}
		w.rows.feature.RowOf = append(w.rows.feature.RowOf, w.rows.number(taught(row, met.byYear[year], w.teach.Weight)))
	}
}

// rowBook keeps each different row once.
type rowBook struct {
	feature odds.Feature
	numbers map[string]uint32
	key     []byte
}

func newRowBook(f odds.Feature) *rowBook { return &rowBook{feature: f, numbers: map[string]uint32{}} }

// number gives the row's place, which it enters where it is new.
func (b *rowBook) number(r odds.Row) uint32 {
	key := append(b.key[:0], 0)
	if r.Silent {
		key[0] = 1
	}
	key = binary.LittleEndian.AppendUint64(key, math.Float64bits(r.Rest))
	for _, c := range r.Cells {
		key = binary.LittleEndian.AppendUint32(key, uint32(c.From))
		key = binary.LittleEndian.AppendUint32(key, uint32(c.To))
		key = binary.LittleEndian.AppendUint64(key, math.Float64bits(c.Chance))
		if c.Possible {
			key = append(key, 1)
		} else {
			key = append(key, 0)
		}
	}
	b.key = key
	if n, ok := b.numbers[string(key)]; ok {
		return n
	}
	n := uint32(len(b.feature.Rows))
	b.feature.Rows = append(b.feature.Rows, r)
	b.numbers[string(key)] = n
	return n
}
