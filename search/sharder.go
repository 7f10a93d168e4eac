package search

import (
	"context"
	"fmt"
	"maps"
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
	records  []schema.Record  // of the state before
	kept     []*keptDocuments // of each of records
	all      []*vector        // in order
	standing *standing
	inverted *inverted
	filters  *filterLists
	shelves  *shelves
}

// keptDocuments are a record's, and what they rest on.
type keptDocuments struct {
	rests   *rests // nil where no other state will follow
	vectors []*vector
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

// Shards gives the files for the site. It fails once ctx ends.
func (s *Sharder) Shards(ctx context.Context, ref *schema.Reference, years Years) (*Shards, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.inverted == nil {
		s.forget()
	}
	vectors, err := s.vectors(ctx, &writer{ref: ref, years: years.Years, work: years.Work})
	if err != nil {
		return nil, err
	}
	if err := ctx.Err(); err != nil {
		s.forget()
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
		vectors, s.standing, s.inverted, s.filters, s.lexicon = nil, nil, nil, nil, nil
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
	s.records, s.kept, s.all = nil, nil, nil
	s.lexicon, s.shelves, s.standing = &words.Lexicon{}, &shelves{}, newStanding()
	s.inverted = &inverted{standing: s.standing, once: s.Once, books: newBooks()}
	s.filters = &filterLists{standing: s.standing, book: &s.inverted.books.filters}
}

// vectors gives every document, by kind and address. The caller must not
// change the slice.
func (s *Sharder) vectors(ctx context.Context, w *writer) ([]*vector, error) {
	records := w.ref.Records()
	kept := s.stillGood(w, records)
	var anew []int
	for i, k := range kept {
		if k == nil {
			anew = append(anew, i)
		}
	}
	for some := range slices.Chunk(anew, atOnce) {
		if err := ctx.Err(); err != nil {
			s.forget()
			return nil, err
		}
		s.takeApart(w, records, some, kept)
	}
	all, err := s.arranged(records, kept)
	if s.records, s.kept, s.all = nil, nil, nil; err != nil {
		return nil, err
	}
	if !s.Once {
		s.records, s.kept, s.all = records, kept, all
	}
	return all, nil
}

// arranged gives the documents of all records in order.
func (s *Sharder) arranged(records []schema.Record, kept []*keptDocuments) ([]*vector, error) {
	if all, ok := s.exchanged(records, kept); ok {
		return all, nil
	}
	var all []*vector
	for _, k := range kept {
		all = append(all, k.vectors...)
	}
	all = inOrder(all)
	for i, v := range all {
		if v.place = i; i > 0 && v.doc.Address == all[i-1].doc.Address {
			return nil, fmt.Errorf("two documents have the address %q: %s and %s", v.doc.Address, all[i-1].doc.ID, v.doc.ID)
		}
	}
	return all, nil
}

// exchanged gives the documents of the state before with those that are new in
// the places of those that they stand for, where nothing else is new.
func (s *Sharder) exchanged(records []schema.Record, kept []*keptDocuments) (all []*vector, ok bool) {
	if len(records) != len(s.records) || len(records) == 0 {
		return nil, false
	}
	all = slices.Clone(s.all)
	for i, now := range kept {
		before := s.kept[i]
		if now == before {
			continue
		}
		if nameOf(records[i]) != nameOf(s.records[i]) || !slices.EqualFunc(now.vectors, before.vectors, inOnePlace) {
			return nil, false
		}
		for n, v := range now.vectors {
			v.place = before.vectors[n].place
			all[v.place] = v
		}
	}
	return all, true
}

func inOnePlace(a, b *vector) bool { return a.kind == b.kind && a.doc.Address == b.doc.Address }

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
	head, tail := inCommon(s.records, records)
	copy(kept, s.kept[:head])
	copy(kept[len(kept)-tail:], s.kept[len(s.kept)-tail:])
	before := make(map[schema.Record]*keptDocuments, len(s.records)-tail-head)
	for i, r := range s.records[head : len(s.records)-tail] {
		before[r] = s.kept[head+i]
	}
	names := map[recordName]bool{}
	for i, r := range records[head : len(records)-tail] {
		if k, known := before[r]; known {
			kept[head+i] = k
			delete(before, r)
		} else {
			names[nameOf(r)] = true
		}
	}
	for r := range before {
		names[nameOf(r)] = true
	}
	if len(names) > mostChanged {
		return nil
	}
	return slices.AppendSeq([]recordName{}, maps.Keys(names))
}

// inCommon says how many records two lists have in common at the beginning and,
// of the rest, at the end.
func inCommon(a, b []schema.Record) (head, tail int) {
	short := min(len(a), len(b))
	for head < short && a[head] == b[head] {
		head++
	}
	for tail < short-head && a[len(a)-1-tail] == b[len(b)-1-tail] {
		tail++
	}
	return head, tail
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

// takeApart makes the documents of some of the records, several at once, and
// numbers their terms in the order of the records.
func (s *Sharder) takeApart(w *writer, records []schema.Record, some []int, made []*keptDocuments) {
	takers := sync.Pool{New: func() any { return newTaker(s.lexicon) }}
	take := func(n int) []takenApart {
		t := takers.Get().(*taker)
		defer takers.Put(t)
		made[n] = &keptDocuments{}
		one := writer{ref: w.ref, years: w.years, work: w.work}
		if !s.Once {
			one.rests = &rests{}
			made[n].rests = one.rests
		}
		one.add(records[n])
		apart := make([]takenApart, len(one.docs))
		for at := range one.docs {
			one.docs[at].bound()
			apart[at] = t.apart(&one.docs[at])
		}
		return apart
	}
	var number sync.WaitGroup // what was taken apart is numbered while more is taken apart
	for few := range slices.Chunk(some, takenAtOnce) {
		apart := make([][]takenApart, len(few))
		parallel.For(len(few), func(i int) { apart[i] = take(few[i]) })
		number.Wait()
		number.Go(func() {
			for i, n := range few {
				for _, t := range apart[i] {
					made[n].vectors = append(made[n].vectors, s.inverted.vector(t))
				}
			}
		})
	}
	number.Wait()
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
