package search

import (
	"cmp"
	"encoding/binary"
	"math"
	"slices"
	"strconv"

	"yearmark/search/bits"
)

// Keys of filters begin with a mark that no word holds, then a letter for
// the filter: k kind, m maker, b model, < first year not after, > last year not before,
// = feature value.
const filterMark = 1

func filterKey(filter byte, value string) string {
	return string([]byte{filterMark, filter}) + value
}

// What filters ask for: a whole value, and a value of a feature.
type (
	wholeKey struct {
		filter byte
		value  string
	}
	heldKey struct{ feature, value string }
)

// filterEntries makes the lists of every filter, in order of key.
func (x *exporter) filterEntries() []entry {
	whole := map[wholeKey][]uint32{}
	held := map[heldKey][]holder{}
	add := func(filter byte, value string, n uint32) {
		if value != "" {
			key := wholeKey{filter, value}
			whole[key] = append(whole[key], n)
		}
	}
	for n, place := range x.order {
		d := &x.ix.docs[place]
		add('k', d.Kind, uint32(n))
		add('m', d.Maker, uint32(n))
		add('b', d.Model, uint32(n))
		for i := range d.Holds {
			h := &d.Holds[i]
			held[heldKey{h.Feature, h.Value}] = append(held[heldKey{h.Feature, h.Value}], holder{uint32(n), h})
		}
	}
	entries := x.yearEntries()
	for key, list := range whole {
		entries = append(entries, entry{key: filterKey(key.filter, key.value), text: len(list), list: x.setList(list)})
	}
	for key, list := range held {
		docs, bytes := x.heldList(list)
		entries = append(entries, entry{key: filterKey('=', key.feature+"="+key.value), text: docs, list: bytes})
	}
	slices.SortFunc(entries, func(a, b entry) int { return cmp.Compare(a.key, b.key) })
	return entries
}

// yearEntries makes, for each first year that there is, the list of documents whose first year is
// not after it, and for each last year of those whose last is not before it.
func (x *exporter) yearEntries() []entry {
	var entries []entry
	list := func(filter byte, year int, has func(*Document) bool) {
		var docs []uint32
		for n, place := range x.order {
			if d := &x.ix.docs[place]; d.Dated() && has(d) {
				docs = append(docs, uint32(n))
			}
		}
		entries = append(entries, entry{key: filterKey(filter, strconv.Itoa(year)), text: len(docs), list: x.setList(docs)})
	}
	for _, year := range x.firsts {
		list('<', year, func(d *Document) bool { return d.First <= year })
	}
	for _, year := range x.lasts {
		list('>', year, func(d *Document) bool { return d.Last >= year })
	}
	return entries
}

// setList writes a set of documents: one bit that says whether those in it or
// those outside follow, a parameter (5 bits), and the gaps.
func (x *exporter) setList(docs []uint32) []byte {
	var w bits.Writer
	rest := 2*len(docs) > len(x.order)
	if rest {
		docs = complement(docs, len(x.order))
	}
	w.Flag(rest)
	writeGaps(&w, docs)
	return w.Bytes()
}

func complement(docs []uint32, total int) []uint32 {
	rest := make([]uint32, 0, total-len(docs))
	at := 0
	for n := range uint32(total) {
		if at < len(docs) && docs[at] == n {
			at++
			continue
		}
		rest = append(rest, n)
	}
	return rest
}

// writeGaps writes a parameter (5 bits) and ascending numbers.
func writeGaps(w *bits.Writer, docs []uint32) {
	gaps := make([]uint64, len(docs))
	next := uint32(0)
	for i, n := range docs {
		gaps[i] = uint64(n - next)
		next = n + 1
	}
	k := bits.BestRice(gaps)
	w.Bits(uint64(k), 5)
	for _, gap := range gaps {
		w.Rice(gap, k)
	}
}

// holder is a document and a value that it has.
type holder struct {
	doc uint32
	*Held
}

// heldList writes the documents, in order of number, that have a value and the years in which they
// have it: whether it is a figure's range (one byte) and its two ends (8 bytes each); the
// earliest year (varint), then bits: the width of years (5), the documents; for
// each document how often it has the value, less 1, in unary, and for each time
// whether there are years, the first of them less the earliest, and their number less 1.
func (x *exporter) heldList(list []holder) (docs int, b []byte) {
	b = append(b, 0)
	if h := list[0]; h.IsFigure {
		b[0] = 1
		b = binary.LittleEndian.AppendUint64(b, math.Float64bits(h.Low))
		b = binary.LittleEndian.AppendUint64(b, math.Float64bits(h.High))
	}
	earliest, width := yearWidth(list)
	b = binary.AppendVarint(b, int64(earliest))
	var numbers []uint32
	for i := range list {
		if i == 0 || list[i].doc != list[i-1].doc {
			numbers = append(numbers, list[i].doc)
		}
	}
	var w bits.Writer
	w.Bits(uint64(width), 5)
	writeGaps(&w, numbers)
	for from, to := 0, 0; from < len(list); from = to {
		for to = from; to < len(list) && list[to].doc == list[from].doc; to++ {
		}
		w.Unary(uint64(to - from - 1))
		for _, h := range list[from:to] {
			dated := h.First != 0 || h.Last != 0
			w.Flag(dated)
			if dated {
				w.Bits(uint64(h.First-earliest), width)
				w.Gamma(uint64(h.Last - h.First + 1))
			}
		}
	}
	return len(numbers), append(b, w.Bytes()...)
}

// yearWidth gives the earliest year of a list and how many bits the first years above it take.
func yearWidth(list []holder) (earliest, width int) {
	latest, any := 0, false
	for _, h := range list {
		if h.First == 0 && h.Last == 0 {
			continue
		}
		if !any || h.First < earliest {
			earliest = h.First
		}
		if !any || h.First > latest {
			latest = h.First
		}
		any = true
	}
	for latest-earliest >= 1<<width {
		width++
	}
	return earliest, width
}
