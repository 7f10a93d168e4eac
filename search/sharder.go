package search

import (
	"fmt"
	"slices"
	"strings"
	"sync"

	"github.com/blevesearch/bleve/v2/search"

	"yearmark/schema"
	"yearmark/schema/edtf"
	"yearmark/schema/parallel"
	"yearmark/search/words"
)

// Sharder writes the files of one state of a reference after another: those
// that Build and Shards give, without Bleve between. Documents that did not
// change are taken apart once. The zero Sharder is ready; it is safe for
// concurrent use, and may be asked for states in any order.
type Sharder struct {
	// Once says that no other state will be asked for: nothing is kept.
	Once bool

	mu      sync.Mutex
	lexicon *words.Lexicon
	books   *books
	kept    map[schema.Record]*keptDocuments
}

// keptDocuments are a record's, and what they rest on.
type keptDocuments struct {
	rests   rests
	vectors []*vector
}

// atOnce is how many records are taken apart before their terms are numbered.
const atOnce = 1024

// most is how many terms may be known for each that is in use, before those
// out of use are forgotten.
const most = 3

// Shards gives the files for the site. years is as in Documents, and must not be nil.
func (s *Sharder) Shards(ref *schema.Reference, years func(*schema.Claim) edtf.Years) (*Shards, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.books == nil {
		s.forget()
	}
	vectors, err := s.vectors(&writer{ref: ref, years: years})
	if err != nil {
		return nil, err
	}
	x := s.exporter(vectors)
	var filters, words []entry
	var parts sync.WaitGroup
	parts.Go(func() { filters = x.filterEntries() })
	parts.Go(func() { words = s.wordEntries(x, vectors) })
	parts.Wait()
	known, used := len(s.books.terms.terms), len(words)
	if s.Once {
		vectors, s.books, s.lexicon, s.kept = nil, nil, nil, nil
	} else if known > most*used+1000 {
		s.forget()
	}
	return x.write(filters, words), nil
}

// forget begins anew with no document kept.
func (s *Sharder) forget() {
	s.lexicon, s.books, s.kept = &words.Lexicon{}, newBooks(), map[schema.Record]*keptDocuments{}
}

// vectors gives every document, by kind and address.
func (s *Sharder) vectors(w *writer) ([]*vector, error) {
	records := w.ref.Records()
	kept := make(map[schema.Record]*keptDocuments, len(records))
	var all []*vector
	var anew []schema.Record
	for _, r := range records {
		k := s.kept[r]
		if k == nil || !k.rests.hold(w) {
			anew = append(anew, r)
			continue
		}
		kept[r] = k
		all = append(all, k.vectors...)
	}
	for from := 0; from < len(anew); from += atOnce {
		some := anew[from:min(from+atOnce, len(anew))]
		for i, k := range s.takeApart(w, some) {
			all = append(all, k.vectors...)
			if !s.Once {
				kept[some[i]] = k
			}
		}
	}
	s.kept = kept
	all = inOrder(all)
	for i := 1; i < len(all); i++ {
		if all[i].doc.Address == all[i-1].doc.Address {
			return nil, fmt.Errorf("two documents have the address %q: %s and %s", all[i].doc.Address, all[i-1].doc.ID, all[i].doc.ID)
		}
	}
	return all, nil
}

// inOrder orders documents as byKind does, which they nearly are.
func inOrder(all []*vector) []*vector {
	kinds := make([][]*vector, len(Kinds))
	for _, v := range all {
		kinds[v.kind] = append(kinds[v.kind], v)
	}
	address := func(a, b *vector) int { return strings.Compare(a.doc.Address, b.doc.Address) }
	for _, list := range kinds {
		if !slices.IsSortedFunc(list, address) {
			slices.SortStableFunc(list, address)
		}
	}
	return slices.Concat(kinds...)
}

// takeApart makes the documents of records, several at once, and numbers their
// terms in the order of the records.
func (s *Sharder) takeApart(w *writer, records []schema.Record) []*keptDocuments {
	list := make([]*keptDocuments, len(records))
	apart := make([][]takenApart, len(records))
	docs := make([][]Document, len(records))
	takers := sync.Pool{New: func() any { return newTaker(s.lexicon) }}
	parallel.For(len(records), func(i int) {
		t := takers.Get().(*taker)
		defer takers.Put(t)
		list[i] = &keptDocuments{}
		one := writer{ref: w.ref, years: w.years}
		if !s.Once {
			one.rests = &list[i].rests
		}
		one.add(records[i])
		docs[i] = one.docs
		for at := range one.docs {
			one.docs[at].bound()
			apart[i] = append(apart[i], t.apart(&one.docs[at]))
		}
	})
	for i, k := range list {
		for at, t := range apart[i] {
			k.vectors = append(k.vectors, s.books.vector(docs[i][at], t))
		}
	}
	return list
}

// exporter numbers the documents and counts what they hold.
func (s *Sharder) exporter(vectors []*vector) *exporter {
	ix := &Index{docs: make([]Document, len(vectors)), lengths: make([]int, len(vectors)), stats: &search.BM25Stats{FieldCardinality: map[string]int{}}}
	text, heads := 0, make([]int, len(headings))
	for i, v := range vectors {
		ix.docs[i], ix.lengths[i] = v.doc, v.length
		text += v.length
		for h := range headings {
			heads[h] += v.heads[h]
		}
	}
	ix.stats.FieldCardinality[fieldText] = text
	for h := range headings {
		ix.stats.FieldCardinality[headings[h].field] = heads[h]
	}
	x := numbered(ix)
	x.dict = &dictionary{words: s.wordsMet(vectors)}
	return x
}

// wordsMet sums up the words met in all documents, in order.
func (s *Sharder) wordsMet(vectors []*vector) []wordEntry {
	times := make([]int, len(s.books.words.terms))
	for _, v := range vectors {
		at := 0
		for _, word := range v.words {
			var n int
			n, at = readUvarint(v.times, at)
			times[word] += n
		}
	}
	list := make([]wordEntry, 0, len(times))
	for _, n := range s.books.words.sorted() {
		if times[n] > 0 {
			list = append(list, wordEntry{s.books.words.terms[n], s.books.termOf[n], times[n]})
		}
	}
	return list
}
