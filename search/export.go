package search

import (
	"encoding/binary"
	"slices"
	"strings"

	bleveindex "github.com/blevesearch/bleve_index_api"

	"yearmark/schema/parallel"
	"yearmark/search/bits"
)

// exporter reads the files out of a finished index.
type exporter struct {
	ix         *Index
	dict       *dictionary
	docs       []*Document // by kind and address; their places are in this order
	tokens     int         // of all texts
	headTokens [len(headings)]int

	order  []int    // place of each document number
	number []uint32 // document number of each place
	firsts []int    // the first years that documents have, each once, ascending
	lasts  []int
	files  []File

	internal []uint32 // the document number of each of Bleve's own, which differ from build to build
}

// exporter numbers the documents of an index.
func (ix *Index) exporter() (*exporter, error) {
	dict, err := ix.dictionary()
	if err != nil {
		return nil, err
	}
	x := &exporter{
		ix: ix, dict: dict, tokens: ix.stats.FieldCardinality[fieldText], docs: make([]*Document, len(ix.docs)),
	}
	for h := range headings {
		x.headTokens[h] = ix.stats.FieldCardinality[headings[h].field]
	}
	for i := range ix.docs {
		x.docs[i] = &ix.docs[i]
	}
	x.numberAll()
	return x, x.mapInternal()
}

// numberAll numbers documents by the length of their text, then as they stand.
func (x *exporter) numberAll() {
	byLength := make([]uint64, len(x.docs))
	for place, length := range x.ix.lengths {
		byLength[place] = uint64(length)<<32 | uint64(place)
	}
	slices.Sort(byLength)
	x.order, x.number = make([]int, len(x.docs)), make([]uint32, len(x.docs))
	for n, key := range byLength {
		place := int(uint32(key))
		x.order[n], x.number[place] = place, uint32(n)
	}
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
	text     int                // in how many documents
	headings [len(headings)]int // in how many documents' headings, of words
	list     []byte             // postings, or what a filter needs
	places   []byte             // the places in the text, of words
}

// word says that the entry is a term's and not a filter's.
func (e *entry) word() bool { return strings.IndexByte(e.key, filterMark) < 0 }

// termFiles writes the t and p files and gives the first key of each.
func (x *exporter) termFiles(entries []*entry) []string {
	var starts []string
	var begins []int
	size := 0
	for i, e := range entries {
		n := len(e.list) + len(e.key)/2 + 4
		if i == 0 || size+n > termShardSize {
			starts, begins, size = append(starts, e.key), append(begins, i), 0
		}
		size += n
	}
	begins = append(begins, len(entries))
	files := make([][2][]byte, len(starts))
	parallel.For(len(files), func(n int) { files[n][0], files[n][1] = termFile(entries[begins[n]:begins[n+1]]) })
	x.addPairs("t", "p", files)
	return starts
}

// termFile writes one t file and the p file that goes with it, which is empty
// where nothing has places: first what there is, then the lists.
func termFile(entries []*entry) (data, places []byte) {
	data = binary.AppendUvarint(nil, uint64(len(entries)))
	places = binary.AppendUvarint(nil, uint64(len(entries)))
	before, some := "", false
	for _, e := range entries {
		data = bits.AppendFront(data, before, e.key)
		before = e.key
		data = binary.AppendUvarint(data, uint64(e.text))
		if e.word() {
			for _, n := range e.headings {
				data = binary.AppendUvarint(data, uint64(n))
			}
		}
		data = binary.AppendUvarint(data, uint64(len(e.list)))
		places = binary.AppendUvarint(places, uint64(len(e.places)))
		some = some || len(e.places) > 0
	}
	for _, e := range entries {
		data = append(data, e.list...)
		places = append(places, e.places...)
	}
	if !some {
		return data, nil
	}
	return data, places
}
