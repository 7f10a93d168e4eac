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
	mu      sync.Mutex
	lexicon *words.Lexicon
	books   *books
	kept    map[schema.Record]*keptDocuments
	occurs  []occurrence // room for all of them
}

// keptDocuments are a record's, and what they rest on.
type keptDocuments struct {
	rests   rests
	vectors []*vector
}

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
	files := x.write(filters, words)
	clear(s.occurs)
	if len(s.books.terms.terms) > most*len(words)+1000 {
		s.forget()
	}
	return files, nil
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
	for i, k := range s.takeApart(w, anew) {
		kept[anew[i]] = k
		all = append(all, k.vectors...)
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
	splitters := sync.Pool{New: func() any { return &words.Splitter{Lexicon: s.lexicon} }}
	parallel.For(len(records), func(i int) {
		splitter := splitters.Get().(*words.Splitter)
		defer splitters.Put(splitter)
		list[i] = &keptDocuments{}
		one := writer{ref: w.ref, years: w.years, rests: &list[i].rests}
		one.add(records[i])
		docs[i] = one.docs
		for at := range one.docs {
			one.docs[at].bound()
			apart[i] = append(apart[i], takeApart(splitter, &one.docs[at]))
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
		for _, m := range v.words {
			times[m.word] += m.times
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

// wordEntries turns the documents round: for each term its postings, written
// as those that are read out of an index are.
func (s *Sharder) wordEntries(x *exporter, vectors []*vector) []entry {
	begins := s.turnRound(x, vectors)
	var live []uint32
	for _, n := range s.books.terms.sorted() {
		if begins[n] < begins[n+1] {
			live = append(live, n)
		}
	}
	entries := make([]entry, len(live))
	writers := sync.Pool{New: func() any { return &postingWriter{} }}
	parallel.For(len(live), func(i int) {
		w := writers.Get().(*postingWriter)
		defer writers.Put(w)
		n := live[i]
		entries[i] = w.entry(s.books.terms.terms[n], s.occurs[begins[n]:begins[n+1]])
	})
	return entries
}

// turnRound lists the occurrences term by term, each term's by document
// number, and gives where each term's begin.
func (s *Sharder) turnRound(x *exporter, vectors []*vector) []int {
	begins := make([]int, len(s.books.terms.terms)+1)
	for _, v := range vectors {
		for i := range v.terms {
			begins[v.terms[i].term+1]++
		}
	}
	for n := 1; n < len(begins); n++ {
		begins[n] += begins[n-1]
	}
	total := begins[len(begins)-1]
	s.occurs = slices.Grow(s.occurs[:0], total)[:total]
	next := slices.Clone(begins)
	for n, place := range x.order {
		v := vectors[place]
		for i := range v.terms {
			o := &v.terms[i]
			s.occurs[next[o.term]] = occurrence{uint32(n), o, v}
			next[o.term]++
		}
	}
	return begins
}

// occurrence is a term in a document of a number.
type occurrence struct {
	number uint32
	*occurring
	in *vector
}

// postingWriter writes the entry of a term, keeping its room.
type postingWriter struct {
	listWriter
	text, heads []posting
}

func (w *postingWriter) entry(term string, occurs []occurrence) entry {
	w.text = w.text[:0]
	for _, o := range occurs {
		w.text = append(w.text, posting{doc: o.number, freq: len(o.places), places: o.places})
	}
	e := entry{key: term, text: len(w.text), headings: make([]int, len(headings))}
	w.Reset()
	w.documents(w.text)
	for h := range headings {
		w.heads = w.heads[:0]
		for _, o := range occurs {
			if n := o.occurring.heads[h]; n > 0 {
				w.heads = append(w.heads, posting{doc: o.number, freq: n, length: o.in.heads[h]})
			}
		}
		if e.headings[h] = len(w.heads); e.headings[h] > 0 {
			w.heading(w.text, w.heads)
		}
	}
	e.list = slices.Clone(w.Bytes())
	e.places = w.listWriter.places(w.text)
	return e
}
