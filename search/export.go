package search

import (
	"encoding/binary"
	"slices"
	"sync"

	bleveindex "github.com/blevesearch/bleve_index_api"

	"yearmark/schema/parallel"
	"yearmark/search/bits"
)

// exporter writes the files of one set of documents, or reads them out of an index.
type exporter struct {
	docs       []*Document // by kind and address; their places are in this order
	lengths    []int       // of the document at each place: the tokens of its text
	tokens     int         // of all texts
	headTokens [len(headings)]int
	words      []wordEntry

	order  []int    // place of each document number
	number []uint32 // document number of each place
	firsts []int    // the first years that documents have, each once, ascending
	lasts  []int
	files  []part

	// Of those that read an index out: the index, its dictionary, and the
	// document number of each of Bleve's own, which differ from build to build.
	ix       *Index
	dict     *dictionary
	internal []uint32
}

// exporter numbers the documents of an index.
func (ix *Index) exporter() (*exporter, error) {
	dict, err := ix.dictionary()
	if err != nil {
		return nil, err
	}
	x := &exporter{
		ix: ix, dict: dict, words: dict.words, lengths: ix.lengths, tokens: ix.stats.FieldCardinality[fieldText],
		docs: make([]*Document, len(ix.docs)),
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
	for place, length := range x.lengths {
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
func (e *entry) word() bool { return e.key[0] != filterMark }

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
	pairs := make([]pair, len(starts))
	parallel.For(len(pairs), func(n int) { pairs[n] = termFile(entries[begins[n]:begins[n+1]]) })
	x.addPairs("t", "p", pairs)
	return starts
}

// termFile writes one t file and the p file that goes with it, which is empty
// where nothing has places: first what there is, then the lists.
func termFile(entries []*entry) pair {
	var lists, places int
	for _, e := range entries {
		lists, places = lists+len(e.list), places+len(e.places)
	}
	w := termFileWriters.Get().(*termFileWriter)
	defer termFileWriters.Put(w)
	head, placeHead := w.head[:0], w.placeHead[:0]
	head = binary.AppendUvarint(head, uint64(len(entries)))
	placeHead = binary.AppendUvarint(placeHead, uint64(len(entries)))
	before := ""
	for _, e := range entries {
		head = bits.AppendFront(head, before, e.key)
		before = e.key
		head = binary.AppendUvarint(head, uint64(e.text))
		if e.word() {
			for _, n := range e.headings {
				head = binary.AppendUvarint(head, uint64(n))
			}
		}
		head = binary.AppendUvarint(head, uint64(len(e.list)))
		placeHead = binary.AppendUvarint(placeHead, uint64(len(e.places)))
	}
	w.head, w.placeHead = head, placeHead
	data, other := append(make([]byte, 0, len(head)+lists), head...), []byte(nil)
	for _, e := range entries {
		data = append(data, e.list...)
	}
	if places > 0 {
		other = append(make([]byte, 0, len(placeHead)+places), placeHead...)
		for _, e := range entries {
			other = append(other, e.places...)
		}
	}
	return pairOf(data, other)
}

// termFileWriter is room for what stands before the lists of a t file and
// before the places of its p file.
type termFileWriter struct{ head, placeHead []byte }

var termFileWriters = sync.Pool{New: func() any { return new(termFileWriter) }}
