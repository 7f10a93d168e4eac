package search

import (
	"slices"
	"sync"

	"yearmark/schema/parallel"
)

// atATime is how many occurrences are turned round at a time: enough that the
// documents are not gone through often, few enough to need little room.
const atATime = 1 << 20

// wordEntries turns the documents round: for each term its postings, written
// as those that are read out of an index are.
func (s *Sharder) wordEntries(x *exporter, vectors []*vector) []entry {
	t := &turner{books: s.books, x: x, vectors: vectors, terms: make([]turning, len(s.books.terms.terms))}
	for _, v := range vectors {
		for i, term := range v.terms {
			times, _ := readUvarint(v.where, int(v.begins[i]))
			t.terms[term].documents++
			t.terms[term].times += uint32(times)
		}
	}
	var live []uint32
	for _, n := range s.books.terms.sorted() {
		if t.terms[n].documents > 0 {
			live = append(live, n)
		}
	}
	entries := make([]entry, len(live))
	for from := 0; from < len(live); {
		to := from + t.stretch(live[from:])
		t.turn(live[from:to], entries[from:to])
		from = to
	}
	return entries
}

// turner turns some terms round at a time, keeping its room.
type turner struct {
	books   *books
	x       *exporter
	vectors []*vector
	terms   []turning

	occurs  []occurrence
	places  []int
	writers sync.Pool
}

// turning is a term while it is turned round.
type turning struct {
	documents, times uint32 // in how many it stands, and how often in all texts
	wanted           bool
	next, nextPlace  uint32 // where its next occurrence goes, and that one's places
}

// occurrence is a term in a document.
type occurrence struct {
	number uint32 // of the document
	times  uint32 // in the text
	heads  [2]int // in each of headings
}

// stretch is how many of the first terms occur about atATime times.
func (t *turner) stretch(terms []uint32) int {
	size := 0
	for i, n := range terms {
		if size += int(t.terms[n].documents); i > 0 && size > atATime {
			return i
		}
	}
	return len(terms)
}

// inABlock is how many terms are written by one hand before it takes more.
const inABlock = 64

// turn writes the entries of some terms.
func (t *turner) turn(terms []uint32, entries []entry) {
	var occurs, places uint32
	for _, n := range terms {
		of := &t.terms[n]
		of.wanted, of.next, of.nextPlace = true, occurs, places
		occurs += of.documents
		places += of.times
	}
	t.occurs = slices.Grow(t.occurs[:0], int(occurs))[:occurs]
	t.places = slices.Grow(t.places[:0], int(places))[:places]
	t.gather()
	blocks := (len(terms) + inABlock - 1) / inABlock
	parallel.For(blocks, func(block int) {
		w, kept := t.writers.Get().(*postingWriter)
		if !kept {
			w = &postingWriter{turner: t}
		}
		defer t.writers.Put(w)
		for i := block * inABlock; i < min((block+1)*inABlock, len(terms)); i++ {
			entries[i] = w.entry(terms[i])
			t.terms[terms[i]].wanted = false
		}
	})
}

// gather goes through the documents by number and lists the occurrences of the
// terms wanted, each term's together.
func (t *turner) gather() {
	for number, at := range t.x.order {
		v := t.vectors[at]
		for i, term := range v.terms {
			of := &t.terms[term]
			if !of.wanted {
				continue
			}
			places, heads := appendPlaces(t.places[:of.nextPlace], v.where, int(v.begins[i]))
			t.occurs[of.next] = occurrence{uint32(number), uint32(len(places)) - of.nextPlace, heads}
			of.next, of.nextPlace = of.next+1, uint32(len(places))
		}
	}
}

// postingWriter writes the entry of a term, keeping its room.
type postingWriter struct {
	listWriter
	turner      *turner
	text, heads []posting
}

func (w *postingWriter) entry(term uint32) entry {
	of := &w.turner.terms[term]
	occurs := w.turner.occurs[of.next-of.documents : of.next]
	w.read(occurs, w.turner.places[of.nextPlace-of.times:of.nextPlace])
	e := entry{key: w.turner.books.terms.terms[term], text: len(w.text), headings: make([]int, len(headings))}
	w.Reset()
	w.documents(w.text)
	for h := range headings {
		w.heads = w.heads[:0]
		for i := range occurs {
			if o := &occurs[i]; o.heads[h] > 0 {
				in := w.turner.vectors[w.turner.x.order[o.number]]
				w.heads = append(w.heads, posting{doc: o.number, freq: o.heads[h], length: in.heads[h]})
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
func (w *postingWriter) read(occurs []occurrence, places []int) {
	w.text = w.text[:0]
	for i := range occurs {
		n := occurs[i].times
		w.text = append(w.text, posting{doc: occurs[i].number, freq: int(n), places: places[:n]})
		places = places[n:]
	}
}
