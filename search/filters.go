package search

import (
	"cmp"
	"encoding/binary"
	"math"
	"slices"
	"strconv"
	"sync"

	"yearmark/schema/parallel"
)

// Keys of filters begin with a mark that no word holds, then a letter for
// the filter: k kind, m maker, b model, < first year not after, > last year not before,
// = feature value.
const filterMark = 1

func filterKey(filter byte, value string) string {
	return string([]byte{filterMark, filter}) + value
}

// filtering is what one document is asked for by: the numbers of filters in a book of them.
type filtering struct {
	wholes []uint32
	holds  []uint32 // of each of the document's values
}

// filtering numbers the filters of a document.
func (b *termBook) filtering(d *Document) (f filtering) {
	for _, one := range []struct {
		filter byte
		value  string
	}{{'k', d.Kind}, {'m', d.Maker}, {'b', d.Model}} {
		if one.value != "" {
			f.wholes = append(f.wholes, b.of(filterKey(one.filter, one.value)))
		}
	}
	if len(d.Holds) > 0 {
		f.holds = make([]uint32, len(d.Holds))
	}
	for i := range d.Holds {
		f.holds[i] = b.of(filterKey('=', d.Holds[i].Key()))
	}
	return f
}

// filterEntries makes the lists of every filter, in order of key.
func (x *exporter) filterEntries() []entry {
	keys := x.filters.terms
	whole := grouped(len(keys), func(add func(uint32, uint32)) {
		for n, place := range x.order {
			for _, key := range x.asked[place].wholes {
				add(key, uint32(n))
			}
		}
	})
	held := grouped(len(keys), func(add func(uint32, holder)) {
		for n, place := range x.order {
			for i, key := range x.asked[place].holds {
				add(key, holder{uint32(n), &x.docs[place].Holds[i]})
			}
		}
	})
	all := make([]entry, len(keys), len(keys)+len(x.firsts)+len(x.lasts))
	parallel.For(len(keys), func(n int) {
		w := setWriters.Get().(*setWriter)
		defer setWriters.Put(w)
		all[n] = entry{key: keys[n]}
		if docs := whole[n]; len(docs) > 0 {
			all[n].text, all[n].list = len(docs), w.set(docs, len(x.order))
		} else if len(held[n]) > 0 {
			all[n].text, all[n].list = w.held(held[n])
		}
	})
	entries := slices.DeleteFunc(append(all, x.yearEntries()...), func(e entry) bool { return e.text == 0 })
	slices.SortFunc(entries, func(a, b entry) int { return cmp.Compare(a.key, b.key) })
	return entries
}

// grouped sorts values by key, of which there are so many; each says what they
// are, alike whenever it is called.
func grouped[V any](keys int, each func(add func(key uint32, v V))) [][]V {
	counts, total := make([]int, keys), 0
	each(func(key uint32, _ V) { counts[key]++; total++ })
	all, lists := make([]V, total), make([][]V, keys)
	for key, n := range counts {
		lists[key], all = all[:0:n], all[n:]
	}
	each(func(key uint32, v V) { lists[key] = append(lists[key], v) })
	return lists
}

// datedDocument is a document's number, and its years.
type datedDocument struct {
	number      uint32
	first, last int
}

// yearEntries makes, for each first year that there is, the list of documents whose first year is
// not after it, and for each last year of those whose last is not before it.
func (x *exporter) yearEntries() []entry {
	var dated []datedDocument
	for n, place := range x.order {
		if d := x.docs[place]; d.Dated() {
			dated = append(dated, datedDocument{uint32(n), d.First, d.Last})
		}
	}
	entries := make([]entry, len(x.firsts)+len(x.lasts))
	parallel.For(len(entries), func(i int) {
		w := setWriters.Get().(*setWriter)
		defer setWriters.Put(w)
		w.docs = w.docs[:0]
		filter, year := byte('<'), 0
		if i < len(x.firsts) {
			year = x.firsts[i]
			for j := range dated {
				if dated[j].first <= year {
					w.docs = append(w.docs, dated[j].number)
				}
			}
		} else {
			filter, year = '>', x.lasts[i-len(x.firsts)]
			for j := range dated {
				if dated[j].last >= year {
					w.docs = append(w.docs, dated[j].number)
				}
			}
		}
		entries[i] = entry{key: filterKey(filter, strconv.Itoa(year)), text: len(w.docs), list: w.set(w.docs, len(x.order))}
	})
	return entries
}

// setWriter writes sets of documents, keeping its room.
type setWriter struct {
	listWriter
	docs, rest []uint32
}

var setWriters = sync.Pool{New: func() any { return new(setWriter) }}

// set writes a set of so many documents: one bit that says whether those in it or
// those outside follow, a parameter (5 bits), and the gaps.
func (w *setWriter) set(docs []uint32, of int) []byte {
	w.Reset()
	rest := 2*len(docs) > of
	if rest {
		w.rest = appendComplement(w.rest[:0], docs, of)
		docs = w.rest
	}
	w.Flag(rest)
	w.numbers(docs)
	return slices.Clone(w.Bytes())
}

func appendComplement(rest, docs []uint32, total int) []uint32 {
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

// numbers writes a parameter (5 bits) and ascending numbers.
func (w *listWriter) numbers(docs []uint32) {
	w.gaps = w.gaps[:0]
	next := uint32(0)
	for _, n := range docs {
		w.gaps = append(w.gaps, n-next)
		next = n + 1
	}
	w.gapList()
}

// holder is a document and a value that it has.
type holder struct {
	doc uint32
	*Held
}

// held writes the documents, in order of number, that have a value and the years in which they
// have it: whether it is a figure's range (one byte) and its two ends (8 bytes each); the
// earliest year (varint), then bits: the width of years (5), the documents; for
// each document how often it has the value, less 1, in unary, and for each time
// whether there are years, the first of them less the earliest, and their number less 1.
func (w *setWriter) held(list []holder) (docs int, b []byte) {
	b = append(b, 0)
	if h := list[0]; h.IsFigure {
		b[0] = 1
		b = binary.LittleEndian.AppendUint64(b, math.Float64bits(h.Low))
		b = binary.LittleEndian.AppendUint64(b, math.Float64bits(h.High))
	}
	earliest, width := yearWidth(list)
	b = binary.AppendVarint(b, int64(earliest))
	w.docs = w.docs[:0]
	for i := range list {
		if i == 0 || list[i].doc != list[i-1].doc {
			w.docs = append(w.docs, list[i].doc)
		}
	}
	w.Reset()
	w.Bits(uint64(width), 5)
	w.numbers(w.docs)
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
	return len(w.docs), append(b, w.Bytes()...)
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
