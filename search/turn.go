package search

import (
	"runtime"
	"slices"
	"sync"

	"yearmark/schema/parallel"
)

// atATime is how many occurrences are turned round at a time: enough that the
// documents are not gone through often, few enough to need little room.
const atATime = 1 << 19

// wordEntries turns the documents round: for each term its postings, written
// as those that are read out of an index are.
func (s *Sharder) wordEntries(x *exporter, vectors []*vector) []entry {
	counts := make([]uint32, len(s.books.terms.terms))
	for _, v := range vectors {
		for _, term := range v.terms {
			counts[term]++
		}
	}
	var live []uint32
	for _, n := range s.books.terms.sorted() {
		if counts[n] > 0 {
			live = append(live, n)
		}
	}
	entries := make([]entry, len(live))
	stretches := stretchesOf(live, counts)
	turners := sync.Pool{New: func() any { return &turner{books: s.books, x: x, vectors: vectors, counts: counts} }}
	parallel.For(len(stretches)-1, func(i int) {
		t := turners.Get().(*turner)
		defer turners.Put(t)
		from, to := stretches[i], stretches[i+1]
		t.turn(live[from:to], entries[from:to])
	})
	return entries
}

// stretchesOf parts the terms into stretches that occur about atATime times, or
// evenly where there is little, and gives where each begins and the last ends.
func stretchesOf(live, counts []uint32) []int {
	total := 0
	for _, n := range live {
		total += int(counts[n])
	}
	most := min(atATime, total/(2*runtime.GOMAXPROCS(0))+1)
	begins, size := []int{0}, 0
	for i, n := range live {
		if size > 0 && size+int(counts[n]) > most {
			begins = append(begins, i)
			size = 0
		}
		size += int(counts[n])
	}
	return append(begins, len(live))
}

// turner turns some terms round at a time, keeping its room.
type turner struct {
	books   *books
	x       *exporter
	vectors []*vector
	counts  []uint32 // of each term: in how many documents it stands

	next   []uint32 // of each term: where its next occurrence goes, from 1; 0 for those not wanted
	occurs []occurrence
	writer postingWriter
}

// occurrence is a term in a document.
type occurrence struct {
	number uint32 // of the document
	at     uint32 // in the document's where
	in     *vector
}

// turn writes the entries of some terms.
func (t *turner) turn(terms []uint32, entries []entry) {
	if t.next == nil {
		t.next = make([]uint32, len(t.counts))
	}
	total := uint32(0)
	for _, n := range terms {
		t.next[n] = total + 1
		total += t.counts[n]
	}
	t.occurs = slices.Grow(t.occurs[:0], int(total))[:total]
	t.gather()
	from := uint32(0)
	for i, n := range terms {
		t.next[n] = 0
		to := from + t.counts[n]
		entries[i] = t.writer.entry(t.books.terms.terms[n], t.occurs[from:to])
		from = to
	}
	clear(t.occurs)
}

// gather lists the occurrences of the terms wanted, each term's by document number.
func (t *turner) gather() {
	for number, place := range t.x.order {
		v := t.vectors[place]
		at := 0
		for _, term := range v.terms {
			if to := t.next[term]; to > 0 {
				t.occurs[to-1] = occurrence{uint32(number), uint32(at), v}
				t.next[term]++
			}
			at = skip(v.where, at)
		}
	}
}

// postingWriter writes the entry of a term, keeping its room.
type postingWriter struct {
	listWriter
	text, heads []posting
	places      []int
	one         occurring
	inHeads     [][2]int
}

func (w *postingWriter) entry(term string, occurs []occurrence) entry {
	w.read(occurs)
	e := entry{key: term, text: len(w.text), headings: make([]int, len(headings))}
	w.Reset()
	w.documents(w.text)
	for h := range headings {
		w.heads = w.heads[:0]
		for i, o := range occurs {
			if n := w.inHeads[i][h]; n > 0 {
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

// read reads the occurrences as postings of the text.
func (w *postingWriter) read(occurs []occurrence) {
	w.text, w.inHeads, w.places = w.text[:0], w.inHeads[:0], w.places[:0]
	for _, o := range occurs {
		w.one.read(o.in.where, int(o.at))
		w.places = append(w.places, w.one.places...)
		w.inHeads = append(w.inHeads, w.one.heads)
		w.text = append(w.text, posting{doc: o.number, freq: len(w.one.places)})
	}
	from := 0
	for i := range w.text {
		to := from + w.text[i].freq
		w.text[i].places = w.places[from:to]
		from = to
	}
}
