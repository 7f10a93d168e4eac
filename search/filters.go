package search

import (
	"cmp"
	"maps"
	"slices"
	"strconv"
)

// Keys of filters begin with a mark that no word holds, then a letter for
// the filter: k kind, m maker, b model, < first year not after, > last year not before,
// = feature value.
const filterMark = 1

func filterKey(filter byte, value string) string {
	return string([]byte{filterMark, filter}) + value
}

// filterEntries inverts the filters of all documents: the list of every filter, in order of key.
func (x *exporter) filterEntries() []*entry {
	let, hold := map[string][]uint32{}, map[string][]holder{} // the documents that each filter lets through, by number
	for n, place := range x.order {
		d := x.docs[place]
		for filter, value := range map[byte]string{'k': d.Kind, 'm': d.Maker, 'b': d.Model} {
			if value != "" {
				key := filterKey(filter, value)
				let[key] = append(let[key], uint32(n))
			}
		}
		for i := range d.Holds {
			key := filterKey('=', d.Holds[i].Key())
			hold[key] = append(hold[key], holder{uint32(n), &d.Holds[i]})
		}
	}
	entries := x.yearEntries()
	var w setWriter
	for key, docs := range let {
		entries = append(entries, &entry{key: key, text: len(docs), list: w.set(docs, len(x.order))})
	}
	for key, docs := range hold {
		e := &entry{key: key}
		e.text, e.list = w.held(docs)
		entries = append(entries, e)
	}
	slices.SortFunc(entries, func(a, b *entry) int { return cmp.Compare(a.key, b.key) })
	return entries
}

// yearEntries makes, for each first year that there is, the list of documents whose first year is
// not after it, and for each last year of those whose last is not before it.
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
		var w setWriter
		set := newDocumentSet(len(x.order))
		for _, year := range years {
			set.add(docs[year])
			entries = append(entries, &entry{key: filterKey(filter, strconv.Itoa(year)), text: set.size, list: w.setOf(set)})
		}
	}
	add('<', x.firsts, firsts)
	add('>', descending, lasts)
	return entries
}
