package search

import (
	"cmp"
	"fmt"
	"runtime"
	"slices"
	"sync"
	"sync/atomic"

	"github.com/blevesearch/bleve/v2/search"

	"yearmark/schema"
	"yearmark/schema/edtf"
	"yearmark/search/words"
)

// Sharder writes the files of one state of a reference after another: those
// that Build and Shards give, without Bleve between. Documents that did not
// change are taken apart once. The zero Sharder is ready; it is safe for
// concurrent use, and may be asked for states in any order.
type Sharder struct {
	mu      sync.Mutex
	lexicon *words.Lexicon
	book    *termBook
	kept    map[schema.Record]*keptDocuments
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
	if s.book == nil {
		s.forget()
	}
	vectors, err := s.vectors(&writer{ref: ref, years: years})
	if err != nil {
		return nil, err
	}
	x := s.exporter(vectors)
	files := x.write(s.wordEntries(x, vectors))
	if len(s.book.terms) > most*len(x.dict.text)+1000 {
		s.forget()
	}
	return files, nil
}

// forget begins anew with no document kept.
func (s *Sharder) forget() {
	s.lexicon, s.book, s.kept = &words.Lexicon{}, &termBook{number: map[string]uint32{}}, map[schema.Record]*keptDocuments{}
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
	order := func(a, b *vector) int { return byKind(a.doc, b.doc) }
	slices.SortStableFunc(all, order)
	for i := 1; i < len(all); i++ {
		if all[i].doc.Address == all[i-1].doc.Address {
			return nil, fmt.Errorf("two documents have the address %q: %s and %s", all[i].doc.Address, all[i-1].doc.ID, all[i].doc.ID)
		}
	}
	return all, nil
}

// takeApart makes the documents of records, several at once, and numbers their
// terms in the order of the records.
func (s *Sharder) takeApart(w *writer, records []schema.Record) []*keptDocuments {
	list := make([]*keptDocuments, len(records))
	apart := make([][]takenApart, len(records))
	docs := make([][]Document, len(records))
	splitters := sync.Pool{New: func() any { return &words.Splitter{Lexicon: s.lexicon} }}
	inParallel(len(records), func(i int) {
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
			k.vectors = append(k.vectors, s.book.vector(docs[i][at], t))
		}
	}
	return list
}

// exporter numbers the documents and counts what they hold.
func (s *Sharder) exporter(vectors []*vector) *exporter {
	ix := &Index{docs: make([]Document, len(vectors)), lengths: make([]int, len(vectors)), stats: &search.BM25Stats{FieldCardinality: map[string]int{}}}
	heads := make([][]int, len(headings))
	for h := range heads {
		heads[h] = make([]int, len(s.book.terms))
	}
	text := make([]int, len(s.book.terms))
	for i, v := range vectors {
		ix.docs[i], ix.lengths[i] = v.doc, v.length
		ix.stats.FieldCardinality[fieldText] += v.length
		for h := range headings {
			ix.stats.FieldCardinality[headings[h].field] += v.heads[h]
		}
		for _, o := range v.terms {
			text[o.term]++
			for h := range headings {
				if o.heads[h] > 0 {
					heads[h][o.term]++
				}
			}
		}
	}
	x := numbered(ix)
	x.dict = &dictionary{text: s.book.counted(text), words: wordsOf(vectors)}
	for h := range headings {
		x.dict.headings = append(x.dict.headings, s.book.counted(heads[h]))
	}
	return x
}

// counted names the terms that occur, with their counts.
func (v *termBook) counted(counts []int) map[string]int {
	named := map[string]int{}
	for n, count := range counts {
		if count > 0 {
			named[v.terms[n]] = count
		}
	}
	return named
}

// wordsOf sums up the words met in all documents, in order.
func wordsOf(vectors []*vector) []wordEntry {
	sum := map[string]*wordEntry{}
	for _, v := range vectors {
		for i := range v.words {
			e := &v.words[i]
			if known := sum[e.word]; known != nil {
				known.met += e.met
				continue
			}
			first := *e
			sum[e.word] = &first
		}
	}
	list := make([]wordEntry, 0, len(sum))
	for _, e := range sum {
		list = append(list, *e)
	}
	slices.SortFunc(list, func(a, b wordEntry) int { return cmp.Compare(a.word, b.word) })
	return list
}

// wordEntries turns the documents round: for each term its postings, written
// as those that are read out of an index are.
func (s *Sharder) wordEntries(x *exporter, vectors []*vector) []entry {
	occurs := make([][]occurrence, len(s.book.terms))
	for n, term := range s.book.terms {
		occurs[n] = make([]occurrence, 0, x.dict.text[term])
	}
	for n, place := range x.order {
		v := vectors[place]
		for i := range v.terms {
			o := &v.terms[i]
			occurs[o.term] = append(occurs[o.term], occurrence{uint32(n), o, v})
		}
	}
	var live []uint32
	for n := range occurs {
		if len(occurs[n]) > 0 {
			live = append(live, uint32(n))
		}
	}
	slices.SortFunc(live, func(a, b uint32) int { return cmp.Compare(s.book.terms[a], s.book.terms[b]) })
	entries := make([]entry, len(live))
	writers := sync.Pool{New: func() any { return &postingWriter{} }}
	inParallel(len(live), func(i int) {
		w := writers.Get().(*postingWriter)
		defer writers.Put(w)
		entries[i] = w.entry(s.book.terms[live[i]], occurs[live[i]])
	})
	return entries
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

// inParallel calls do with every number below n, a share to each processor.
func inParallel(n int, do func(i int)) {
	const stretch = 64
	var next atomic.Int64
	var wait sync.WaitGroup
	for range min(runtime.GOMAXPROCS(0), (n+stretch-1)/stretch) {
		wait.Go(func() {
			for from := int(next.Add(stretch)) - stretch; from < n; from = int(next.Add(stretch)) - stretch {
				for i := from; i < min(from+stretch, n); i++ {
					do(i)
				}
			}
		})
	}
	wait.Wait()
}
