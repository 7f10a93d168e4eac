package search

import (
	"cmp"
	"maps"
	"slices"
	"strconv"

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

// filterLists has the filters of documents turned round: for each the documents
// that it lets through, and its list as it is published. What one state has in
// common with the one before is not written again.
type filterLists struct {
	*standing
	book  *termBook
	lists []filterList // as in the book
	stale []uint32     // those that must be written again
}

// filterList is a filter turned round.
type filterList struct {
	docs  []heldAt // by number of the document
	came  []heldAt // those that were not there before
	entry entry    // its text is 0 where no document is let through
	state staleness
}

// heldAt is a document that a filter lets through, and the place of the value
// among those that it has; -1 where the filter asks for no value.
type heldAt struct {
	slot uint32
	hold int32
}

// filterLists turns round the filters of the documents of an index.
func (x *exporter) filterLists() *filterLists {
	f := &filterLists{standing: newStanding(), book: &newBooks().filters}
	docs := make([]*vector, len(x.docs))
	for i, d := range x.docs {
		docs[i] = &vector{doc: *d, asked: f.book.filtering(d)}
	}
	f.standing.advance(docs, x.order)
	f.advance()
	return f
}

// advance writes the lists that the standing documents have changed.
func (f *filterLists) advance() {
	f.lists = slices.Grow(f.lists, len(f.book.terms)-len(f.lists))[:len(f.book.terms)]
	for _, d := range f.moved {
		f.each(d, otherNumbers, func(*filterList, int32) {})
	}
	for _, d := range f.left {
		f.each(d, otherDocuments, func(*filterList, int32) {})
	}
	for _, d := range f.came {
		f.each(d, otherDocuments, func(l *filterList, hold int32) { l.came = append(l.came, heldAt{d.slot, hold}) })
	}
	if f.grew { // what is told by those outside is another
		for n := range f.lists {
			if l := &f.lists[n]; l.state == fresh && len(l.docs) > 0 && l.docs[0].hold < 0 {
				l.state, f.stale = otherNumbers, append(f.stale, uint32(n))
			}
		}
	}
	parallel.For(len(f.stale), func(i int) {
		w := setWriters.Get().(*setWriter)
		defer setWriters.Put(w)
		f.write(w, f.stale[i])
	})
	f.stale = f.stale[:0]
}

// each goes through the filters that let a document through, which are stale now.
func (f *filterLists) each(d *vector, why staleness, do func(l *filterList, hold int32)) {
	note := func(n uint32, hold int32) {
		l := &f.lists[n]
		if l.state == fresh {
			f.stale = append(f.stale, n)
		}
		l.state = max(l.state, why)
		do(l, hold)
	}
	for _, n := range d.asked.wholes {
		note(n, -1)
	}
	for i, n := range d.asked.holds {
		note(n, int32(i))
	}
}

// write writes a stale list anew.
func (f *filterLists) write(w *setWriter, n uint32) {
	l := &f.lists[n]
	if l.state == otherDocuments {
		l.docs, l.came = f.merged(l.docs, l.came), nil
	}
	l.entry, l.state = entry{key: f.book.terms[n]}, fresh
	switch {
	case len(l.docs) == 0:
	case l.docs[0].hold < 0:
		w.docs = w.docs[:0]
		for _, d := range l.docs {
			w.docs = append(w.docs, f.numbers[d.slot])
		}
		l.entry.text, l.entry.list = len(l.docs), w.set(w.docs, len(f.order))
	default:
		w.holders = w.holders[:0]
		for _, d := range l.docs {
			w.holders = append(w.holders, holder{f.numbers[d.slot], &f.slots[d.slot].doc.Holds[d.hold]})
		}
		l.entry.text, l.entry.list = w.held(w.holders)
		clear(w.holders)
	}
}

// merged gives the documents that stayed and those that came, by number.
func (f *filterLists) merged(before, came []heldAt) []heldAt {
	list := make([]heldAt, 0, len(before)+len(came))
	for _, d := range before {
		if f.gone[d.slot] {
			continue
		}
		for len(came) > 0 && f.numbers[came[0].slot] < f.numbers[d.slot] {
			list, came = append(list, came[0]), came[1:]
		}
		list = append(list, d)
	}
	return append(list, came...)
}

// filterEntries gives the lists of every filter, in order of key.
func (x *exporter) filterEntries(f *filterLists) []*entry {
	years := x.yearEntries()
	entries := make([]*entry, 0, len(f.lists)+len(years))
	for _, n := range f.book.sorted() {
		e := &f.lists[n].entry
		if e.text == 0 {
			continue
		}
		for ; len(years) > 0 && years[0].key < e.key; years = years[1:] {
			entries = append(entries, years[0])
		}
		entries = append(entries, e)
	}
	return append(entries, years...)
}

// yearEntries makes, for each first year that there is, the list of documents whose first year is
// not after it, and for each last year of those whose last is not before it, in
// order of key.
func (x *exporter) yearEntries() []*entry {
	firsts, lasts := map[int][]uint32{}, map[int][]uint32{}
	for n, place := range x.order {
		if d := x.docs[place]; d.Dated() {
			firsts[d.First] = append(firsts[d.First], uint32(n))
			lasts[d.Last] = append(lasts[d.Last], uint32(n))
		}
	}
	x.firsts, x.lasts = slices.Sorted(maps.Keys(firsts)), slices.Sorted(maps.Keys(lasts))
	descending := slices.Clone(x.lasts)
	slices.Reverse(descending)
	entries := make([]*entry, 0, len(firsts)+len(lasts))
	add := func(filter byte, years []int, docs map[int][]uint32) {
		w := setWriters.Get().(*setWriter)
		defer setWriters.Put(w)
		set := newDocumentSet(len(x.order))
		for _, year := range years {
			set.add(docs[year])
			entries = append(entries, &entry{key: filterKey(filter, strconv.Itoa(year)), text: set.size, list: w.setOf(set)})
		}
	}
	add('<', x.firsts, firsts)
	add('>', descending, lasts)
	slices.SortFunc(entries, func(a, b *entry) int { return cmp.Compare(a.key, b.key) })
	return entries
}
