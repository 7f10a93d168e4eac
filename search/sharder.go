package search

import (
	"fmt"
	"slices"
	"strings"
	"sync"

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

	mu       sync.Mutex
	lexicon  *words.Lexicon
	kept     map[schema.Record]*keptDocuments
	round    int // counts the states
	standing *standing
	inverted *inverted
	filters  *filterLists
	shelves  *shelves
}

// keptDocuments are a record's, and what they rest on.
type keptDocuments struct {
	rests   rests
	vectors []*vector
	round   int // the last in which the record was there
}

// atOnce is how many records are taken apart before their terms are numbered.
const atOnce = 1024

// most is how many terms may be known for each that is in use, before those
// out of use are forgotten.
const most = 3

// Years are the years of one state of a reference. They are asked for from
// several goroutines at once.
type Years interface {
	// Years gives a claim's, once all that is known has been drawn upon.
	Years(*schema.Claim) edtf.Years
	// Work names the piece of work that a claim's years come from, or is nil:
	// where it is the same for two states, the years of all claims of its record are.
	Work(*schema.Claim) any
}

// Shards gives the files for the site.
func (s *Sharder) Shards(ref *schema.Reference, years Years) (*Shards, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.inverted == nil {
		s.forget()
	}
	vectors, err := s.vectors(&writer{ref: ref, years: years.Years, work: years.Work})
	if err != nil {
		return nil, err
	}
	x := newExporter(vectors)
	s.standing.advance(vectors, x.order)
	var filters, terms []*entry
	var parts sync.WaitGroup
	parts.Go(func() {
		s.filters.advance()
		filters = x.filterEntries(s.filters)
	})
	parts.Go(func() {
		s.inverted.advance()
		terms, x.words = s.inverted.entries(), s.inverted.words()
	})
	parts.Wait()
	s.standing.settle()
	known, used := len(s.inverted.books.terms.terms), len(terms)
	if s.Once {
		for _, v := range vectors {
			*v = vector{doc: v.doc}
		}
		vectors, s.standing, s.inverted, s.filters, s.lexicon, s.kept = nil, nil, nil, nil, nil, nil
		return x.write(filters, terms, &shelves{}), nil
	}
	shards := x.write(filters, terms, s.shelves)
	if known > most*used+1000 {
		s.forget()
	}
	return shards, nil
}

// forget begins anew with no document kept.
func (s *Sharder) forget() {
	s.lexicon, s.kept, s.shelves, s.standing = &words.Lexicon{}, map[schema.Record]*keptDocuments{}, &shelves{}, newStanding()
	s.inverted = &inverted{standing: s.standing, once: s.Once, books: newBooks()}
	s.filters = &filterLists{standing: s.standing, book: &s.inverted.books.filters}
}

// vectors gives every document, by kind and address.
func (s *Sharder) vectors(w *writer) ([]*vector, error) {
	records := w.ref.Records()
	still := s.stillGood(w, records)
	kept := make(map[schema.Record]*keptDocuments, len(records))
	var all []*vector
	var anew []schema.Record
	for i, r := range records {
		if still[i] == nil {
			anew = append(anew, r)
			continue
		}
		kept[r] = still[i]
		all = append(all, still[i].vectors...)
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

// stillGood gives what is kept of each of the records and rests on nothing that changed.
func (s *Sharder) stillGood(w *writer, records []schema.Record) []*keptDocuments {
	list := make([]*keptDocuments, len(records))
	if len(s.kept) == 0 {
		return list
	}
	changed := s.changed(records, list)
	parallel.For((len(records)+atOnce-1)/atOnce, func(block int) {
		for i := block * atOnce; i < min((block+1)*atOnce, len(records)); i++ {
			if list[i] != nil && !list[i].rests.hold(w, changed) {
				list[i] = nil
			}
		}
	})
	return list
}

// changed finds what is kept of each of the records, and names those records
// that came or went since the last state. Where they are many it names none, and gives nil.
func (s *Sharder) changed(records []schema.Record, kept []*keptDocuments) []recordName {
	names := []recordName{}
	note := func(r schema.Record) {
		name := recordName{r.Header().Kind, r.Header().ID}
		if len(names) <= mostChanged && !slices.Contains(names, name) {
			names = append(names, name)
		}
	}
	s.round++
	for i, r := range records {
		if kept[i] = s.kept[r]; kept[i] == nil {
			note(r)
		} else {
			kept[i].round = s.round
		}
	}
	for r, k := range s.kept {
		if k.round != s.round {
			note(r)
		}
	}
	if len(names) > mostChanged {
		return nil
	}
	return names
}

// mostChanged is how many changed records are looked for by name.
const mostChanged = 8

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
	takers := sync.Pool{New: func() any { return newTaker(s.lexicon) }}
	take := func(i int) []takenApart {
		t := takers.Get().(*taker)
		defer takers.Put(t)
		list[i] = &keptDocuments{}
		one := writer{ref: w.ref, years: w.years, work: w.work}
		if !s.Once {
			one.rests = &list[i].rests
		}
		one.add(records[i])
		apart := make([]takenApart, len(one.docs))
		for at := range one.docs {
			one.docs[at].bound()
			apart[at] = t.apart(&one.docs[at])
		}
		return apart
	}
	var number sync.WaitGroup // what was taken apart is numbered while more is taken apart
	for from := 0; from < len(records); from += takenAtOnce {
		some := list[from:min(from+takenAtOnce, len(list))]
		apart := make([][]takenApart, len(some))
		parallel.For(len(some), func(i int) { apart[i] = take(from + i) })
		number.Wait()
		number.Go(func() {
			for i, k := range some {
				for _, t := range apart[i] {
					k.vectors = append(k.vectors, s.inverted.vector(t))
				}
			}
		})
	}
	number.Wait()
	return list
}

// takenAtOnce is how many records are taken apart before their terms are
// numbered, so that little of what is taken apart is held at a time.
const takenAtOnce = 1 << 8

// newExporter numbers documents and counts what they hold.
func newExporter(vectors []*vector) *exporter {
	x := &exporter{docs: make([]*Document, len(vectors)), lengths: make([]int, len(vectors))}
	for i, v := range vectors {
		x.docs[i], x.lengths[i] = &v.doc, v.length
		x.tokens += v.length
		for h := range headings {
			x.headTokens[h] += v.heads[h]
		}
	}
	x.numberAll()
	return x
}
