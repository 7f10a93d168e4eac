package search

import (
	"math"
	"slices"
	"sync"

	"yearmark/schema/parallel"
)

// atATime is how many occurrences are turned round at a time where none is
// kept: enough that the documents are not gone through often, few enough to
// need little room.
const atATime = 1 << 20

// inverted has documents turned round: for each term where it stands, and its
// postings, written as those that are read out of an index are. What one state
// of a reference has in common with the one before is not turned again.
type inverted struct {
	*standing
	once     bool // no other state will follow
	books    *books
	terms    []inversion // as in the book of terms
	entering []entrance  // what each of terms has in the documents that came
	stale    []uint32    // the terms that must be written again
	met      []int       // how often each word of the book of words was met

	occurs  []occurrence // of some terms in the documents that came, each term's together
	gaps    []uint32     // those of occurs in turn
	writers sync.Pool
}

// inversion is a term turned round.
type inversion struct {
	occurs []occurrence // by number of the document
	gaps   []uint32     // between the places of each of occurs in turn
	entry  entry        // its text is 0 where the term stands nowhere
	state  staleness
}

// entrance is a term in the documents that came. It is kept small, and apart
// from the rest, since it is looked up for every term of every document.
type entrance struct {
	documents, times uint32 // in how many it stands, and how often in their texts
	next, gap        uint32 // where its next occurrence goes, and the gaps of that; next may be unwanted
}

// unwanted marks a term whose occurrences are not being gathered.
const unwanted = math.MaxUint32

// occurrence is a term in a document.
type occurrence struct {
	slot  uint32
	times uint32                // in the text
	heads [len(headings)]uint32 // in each of headings
}

// advance turns round what the standing documents have changed.
func (v *inverted) advance() {
	v.terms = slices.Grow(v.terms, len(v.books.terms.terms)-len(v.terms))[:len(v.books.terms.terms)]
	for len(v.entering) < len(v.terms) {
		v.entering = append(v.entering, entrance{next: unwanted})
	}
	v.grow()
	for _, d := range v.moved {
		v.mark(d, otherNumbers)
	}
	for _, d := range v.left {
		v.mark(d, otherDocuments)
		v.count(d, -1)
	}
	for _, d := range v.came {
		v.mark(d, otherDocuments)
		v.count(d, 1)
		for i, n := range d.terms {
			e := &v.entering[n]
			e.documents++
			e.times += d.timesOf(i)
		}
	}
	v.turn()
}

// mark notes that the terms of a document must be written again.
func (v *inverted) mark(d *vector, why staleness) {
	for _, n := range d.terms {
		if t := &v.terms[n]; t.state < why {
			if t.state == fresh {
				v.stale = append(v.stale, n)
			}
			t.state = why
		}
	}
}

// vector numbers the terms and words of a document. Where no other state will
// follow its words are counted at once, and not kept.
func (v *inverted) vector(t takenApart) *vector {
	d := v.books.vector(t)
	if v.once {
		v.grow()
		v.count(d, 1)
		d.words, d.times = nil, nil
	}
	return d
}

// grow makes room for every word that is known.
func (v *inverted) grow() {
	v.met = slices.Grow(v.met, len(v.books.words.terms)-len(v.met))[:len(v.books.words.terms)]
}

// count counts the words met in a document, or takes them back.
func (v *inverted) count(d *vector, by int) {
	at := 0
	for _, word := range d.words {
		var n int
		n, at = readUvarint(d.times, at)
		v.met[word] += by * n
	}
}

// inABlock is how many terms are written by one hand before it takes more.
const inABlock = 64

// turn writes the stale terms, some at a time.
func (v *inverted) turn() {
	for from := 0; from < len(v.stale); {
		terms := v.stale[from : from+v.stretch(v.stale[from:])]
		from += len(terms)
		v.gather(terms)
		parallel.For((len(terms)+inABlock-1)/inABlock, func(block int) {
			w, kept := v.writers.Get().(*postingWriter)
			if !kept {
				w = &postingWriter{from: v}
			}
			defer v.writers.Put(w)
			for _, n := range terms[block*inABlock : min((block+1)*inABlock, len(terms))] {
				w.write(n)
			}
		})
		for _, n := range terms {
			v.entering[n] = entrance{next: unwanted}
		}
	}
	v.stale, v.occurs, v.gaps = v.stale[:0], nil, nil
}

// stretch is how many of the first terms occur about atATime times.
func (v *inverted) stretch(terms []uint32) int {
	size := 0
	for i, n := range terms {
		if size += int(v.entering[n].documents); i > 0 && size > atATime {
			return i
		}
	}
	return len(terms)
}

// gather lists the occurrences of some terms in the documents that came, each
// term's together.
func (v *inverted) gather(terms []uint32) {
	size, gaps := uint32(0), uint32(0)
	for _, n := range terms {
		e := &v.entering[n]
		e.next, e.gap = size, gaps
		size, gaps = size+e.documents, gaps+e.times
	}
	v.occurs = slices.Grow(v.occurs[:0], int(size))[:size]
	v.gaps = slices.Grow(v.gaps[:0], int(gaps))[:gaps]
	for _, d := range v.came {
		for i, n := range d.terms {
			if e := &v.entering[n]; e.next != unwanted {
				o := d.occurrence(i, v.gaps[e.gap:])
				v.occurs[e.next] = o
				e.next, e.gap = e.next+1, e.gap+o.times
			}
		}
	}
}

// entries gives the entries of all terms that stand somewhere, in order.
func (v *inverted) entries() []*entry {
	list := make([]*entry, 0, len(v.terms))
	for _, n := range v.books.terms.sorted() {
		if e := &v.terms[n].entry; e.text > 0 {
			list = append(list, e)
		}
	}
	return list
}

// words gives the words that were met, in order.
func (v *inverted) words() []wordEntry {
	list := make([]wordEntry, 0, len(v.met))
	for _, n := range v.books.words.sorted() {
		if v.met[n] > 0 {
			list = append(list, wordEntry{v.books.words.terms[n], v.books.termOf[n], v.met[n]})
		}
	}
	return list
}

// postingWriter writes the entry of a term, keeping its room.
type postingWriter struct {
	listWriter
	from   *inverted
	merged []occurrence
}

// write writes a stale term anew.
func (w *postingWriter) write(term uint32) {
	t := &w.from.terms[term]
	occurs := t.occurs
	if t.state == otherDocuments {
		occurs = w.merge(t, &w.from.entering[term])
		if len(occurs) == 0 {
			*t = inversion{} // nor does it keep its room: such terms may be many
			return
		}
		if !w.from.once {
			t.occurs, t.gaps = append(t.occurs[:0], occurs...), append(t.gaps[:0], w.gaps...)
		}
		t.entry.key, t.entry.text = w.from.books.terms.terms[term], len(occurs)
		t.entry.places = w.appendGaps(t.entry.places[:0])
	}
	w.read(occurs)
	w.entry(&t.entry)
	t.state = fresh
}

// read sets the columns to occurrences.
func (w *postingWriter) read(occurs []occurrence) {
	w.text.docs = slices.Grow(w.text.docs[:0], len(occurs))[:len(occurs)]
	w.text.times = slices.Grow(w.text.times[:0], len(occurs))[:len(occurs)]
	for h := range w.heads {
		w.heads[h].reset()
	}
	for i := range occurs {
		o := &occurs[i]
		w.text.docs[i], w.text.times[i] = w.from.numbers[o.slot], o.times
		if o.heads == [len(headings)]uint32{} {
			continue
		}
		for h, times := range o.heads {
			if times > 0 {
				w.heads[h].add(uint32(i), times, w.from.lengths[o.slot][h])
			}
		}
	}
}

// merge gives a term's occurrences in the documents that stayed and in those
// that came, and gathers the gaps between its places.
func (w *postingWriter) merge(t *inversion, e *entrance) []occurrence {
	came, more := w.from.occurs[e.next-e.documents:e.next], w.from.gaps[e.gap-e.times:e.gap]
	w.gaps = w.gaps[:0]
	if len(t.occurs) == 0 {
		w.gaps = append(w.gaps, more...)
		return came
	}
	list := w.merged[:0]
	gaps := t.gaps
	from, of := 0, 0 // the first of those that stayed and are not in the list yet, and of its gaps
	at := 0          // in gaps
	stayed := func(to int) {
		list, w.gaps = append(list, t.occurs[from:to]...), append(w.gaps, gaps[of:at]...)
		from, of = to, at
	}
	enter := func(before uint32) {
		for ; len(came) > 0 && w.from.numbers[came[0].slot] < before; came = came[1:] {
			times := came[0].times
			list, w.gaps = append(list, came[0]), append(w.gaps, more[:times]...)
			more = more[times:]
		}
	}
	for i := range t.occurs {
		o := &t.occurs[i]
		if w.from.gone[o.slot] {
			stayed(i)
			from, of = i+1, at+int(o.times)
		} else if len(came) > 0 && w.from.numbers[came[0].slot] < w.from.numbers[o.slot] {
			stayed(i)
			enter(w.from.numbers[o.slot])
		}
		at += int(o.times)
	}
	stayed(len(t.occurs))
	enter(math.MaxUint32)
	w.merged = list
	return list
}
