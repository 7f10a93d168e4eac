package search

import (
	"cmp"
	"encoding/binary"
	"slices"

	bleveindex "github.com/blevesearch/bleve_index_api"

	"yearmark/search/bits"
)

// exporter reads one index out.
type exporter struct {
	ix     *Index
	dict   *dictionary
	order  []int    // place in ix.docs of each document number
	number []uint32 // document number of each place in ix.docs
	// internal gives the document number of each of Bleve's own, which differ from build to build.
	internal []uint32
	firsts   []int // the first years that documents have, each once, ascending
	lasts    []int
	files    []File
}

// exporter numbers the documents of an index.
func (ix *Index) exporter() (*exporter, error) {
	dict, err := ix.dictionary()
	if err != nil {
		return nil, err
	}
	x := numbered(ix)
	x.dict = dict
	return x, x.mapInternal()
}

// numbered numbers documents by the length of their text, then as they stand.
func numbered(ix *Index) *exporter {
	x := &exporter{ix: ix, order: make([]int, len(ix.docs)), number: make([]uint32, len(ix.docs))}
	for i := range x.order {
		x.order[i] = i
	}
	slices.SortStableFunc(x.order, func(a, b int) int { return cmp.Compare(ix.lengths[a], ix.lengths[b]) })
	for n, place := range x.order {
		x.number[place] = uint32(n)
	}
	for i := range ix.docs {
		if d := &ix.docs[i]; d.Dated() {
			x.firsts = append(x.firsts, d.First)
			x.lasts = append(x.lasts, d.Last)
		}
	}
	x.firsts, x.lasts = sortedOnce(x.firsts), sortedOnce(x.lasts)
	return x
}

func sortedOnce(list []int) []int {
	slices.Sort(list)
	return slices.Compact(list)
}

// mapInternal finds the document number of each of Bleve's own.
func (x *exporter) mapInternal() error {
	return x.reading(func(r bleveindex.IndexReader) error {
		ids, err := r.DocIDReaderAll()
		if err != nil {
			return err
		}
		defer ids.Close()
		for {
			id, err := ids.Next()
			if err != nil || id == nil {
				return err
			}
			at := id.Value()
			name, err := r.ExternalID(id)
			if err != nil {
				return err
			}
			for uint64(len(x.internal)) <= at {
				x.internal = append(x.internal, 0)
			}
			x.internal[at] = x.number[placeOf(name)]
		}
	})
}

// reading calls f with a reader of the index.
func (x *exporter) reading(f func(bleveindex.IndexReader) error) error {
	engine, err := x.ix.bleve.Advanced()
	if err != nil {
		return err
	}
	r, err := engine.Reader()
	if err != nil {
		return err
	}
	defer r.Close()
	return f(r)
}

// entry is one term of the term files, with its postings or its filter's list.
type entry struct {
	key      string
	text     int    // in how many documents
	headings []int  // in how many documents' headings, of words
	list     []byte // postings, or what a filter needs
	places   []byte // the places in the text, of words
}

// termFiles writes the t and p files and gives the first key of each.
func (x *exporter) termFiles(entries []entry) []string {
	var starts []string
	from, size := 0, 0
	flush := func(to int) {
		if to > from {
			starts = append(starts, entries[from].key)
			x.termFile(len(starts)-1, entries[from:to])
		}
		from, size = to, 0
	}
	for i := range entries {
		n := len(entries[i].list) + len(entries[i].key)/2 + 4
		if size+n > termShardSize {
			flush(i)
		}
		size += n
	}
	flush(len(entries))
	return starts
}

// termFile writes one t file and the p file that goes with it: first what there is, then the lists.
func (x *exporter) termFile(n int, entries []entry) {
	var head, lists, placeHead, places []byte
	head = binary.AppendUvarint(head, uint64(len(entries)))
	placeHead = binary.AppendUvarint(placeHead, uint64(len(entries)))
	before := ""
	for i := range entries {
		e := &entries[i]
		head = bits.AppendFront(head, before, e.key)
		before = e.key
		head = binary.AppendUvarint(head, uint64(e.text))
		for _, n := range e.headings {
			head = binary.AppendUvarint(head, uint64(n))
		}
		head = binary.AppendUvarint(head, uint64(len(e.list)))
		lists = append(lists, e.list...)
		placeHead = binary.AppendUvarint(placeHead, uint64(len(e.places)))
		places = append(places, e.places...)
	}
	x.add("t", n, append(head, lists...))
	if len(places) > 0 {
		x.add("p", n, append(placeHead, places...))
	}
}
