package search

import (
	"cmp"
	"context"
	"math"
	"runtime"
	"slices"
	"sync"

	bleveindex "github.com/blevesearch/bleve_index_api"

	"yearmark/search/bits"
)

// posting is one document that has a term.
type posting struct {
	doc    uint32
	times  uint32
	length uint32 // tokens of the field
	places []int  // of the term in the text
}

// wordEntries reads every term of text and title, in order.
//
// A term's list is a string of bits: the parameter of its gaps (5 bits) and the code of its
// frequencies (3 bits); for each document the gap to the one before, less 1, and
// the frequency; then, for each heading that has the term, the same for
// that heading, with places in the list in the place of document numbers, and the length of each heading.
func (x *exporter) wordEntries(ctx context.Context) ([]*entry, error) {
	terms := make([]string, 0, len(x.dict.text))
	for term := range x.dict.text {
		terms = append(terms, term)
	}
	slices.Sort(terms)
	entries := make([]*entry, len(terms))
	const stretch = 256
	var group sync.WaitGroup
	errs := make(chan error, len(terms)/stretch+1)
	free := make(chan struct{}, runtime.GOMAXPROCS(0))
	for from := 0; from < len(terms); from += stretch {
		to := min(from+stretch, len(terms))
		if ctx.Err() != nil {
			break
		}
		free <- struct{}{}
		group.Go(func() {
			defer func() { <-free }()
			if err := x.readTerms(terms[from:to], entries[from:to]); err != nil {
				errs <- err
			}
		})
	}
	group.Wait()
	select {
	case err := <-errs:
		return nil, err
	default:
		return entries, ctx.Err()
	}
}

// readTerms reads some terms.
func (x *exporter) readTerms(terms []string, entries []*entry) error {
	return x.reading(func(r bleveindex.IndexReader) error {
		var w listWriter
		var text, more []posting
		for i, term := range terms {
			var err error
			if text, err = x.postings(text[:0], r, fieldText, term); err != nil {
				return err
			}
			w.text.reset()
			for _, p := range text {
				w.text.docs, w.text.times = append(w.text.docs, p.doc), append(w.text.times, p.times)
			}
			for j, h := range headings {
				w.heads[j].reset()
				if x.dict.headings[j][term] == 0 {
					continue
				}
				if more, err = x.postings(more[:0], r, h.field, term); err != nil {
					return err
				}
				w.heads[j].within(text, more)
			}
			e := &entry{key: term, text: len(text)}
			w.entry(e)
			e.places = w.places(text)
			entries[i] = e
		}
		return nil
	})
}

// postings reads the documents that have a term, in order of number.
func (x *exporter) postings(dst []posting, r bleveindex.IndexReader, field, term string) ([]posting, error) {
	list, err := r.TermFieldReader(context.Background(), []byte(term), field, true, true, field == fieldText)
	if err != nil {
		return dst, err
	}
	defer list.Close()
	var found bleveindex.TermFieldDoc
	for {
		at, err := list.Next(found.Reset())
		if err != nil {
			return dst, err
		}
		if at == nil {
			break
		}
		p := posting{doc: x.internal[at.ID.Value()], times: uint32(at.Freq), length: uint32(math.Round(1 / (at.Norm * at.Norm)))}
		for _, v := range at.Vectors {
			p.places = append(p.places, int(v.Pos))
		}
		dst = append(dst, p)
	}
	slices.SortFunc(dst, func(a, b posting) int { return cmp.Compare(a.doc, b.doc) })
	return dst, nil
}

// column is a term in one field.
type column struct {
	docs    []uint32 // the documents by number; in a heading, by their places in the text's column
	times   []uint32 // how often each has the term
	lengths []uint32 // in a heading: its tokens
}

func (c *column) reset() { c.docs, c.times, c.lengths = c.docs[:0], c.times[:0], c.lengths[:0] }

// add adds a document whose heading has the term.
func (c *column) add(doc, times, length uint32) {
	c.docs, c.times, c.lengths = append(c.docs, doc), append(c.times, times), append(c.lengths, length)
}

// within fills the column of a heading. Every heading is part of its document's text.
func (c *column) within(text, heading []posting) {
	at := 0
	for _, p := range heading {
		for text[at].doc != p.doc {
			at++
		}
		c.add(uint32(at), p.times, p.length)
	}
}

// listWriter writes lists, keeping its buffers.
type listWriter struct {
	bits.Writer
	gaps  []uint32
	text  column
	heads [len(headings)]column
}

// entry writes the columns as the list of a term.
func (w *listWriter) entry(e *entry) {
	w.Reset()
	w.documents(&w.text)
	for h := range w.heads {
		head := &w.heads[h]
		if e.headings[h] = len(head.docs); len(head.docs) == 0 {
			continue
		}
		w.documents(head)
		code := w.Counts(head.lengths)
		for _, n := range head.lengths {
			w.Count(uint64(n), code)
		}
	}
	e.list = slices.Clone(w.Bytes())
}

// documents writes documents and how often they have the term.
func (w *listWriter) documents(c *column) {
	w.gapsBetween(c.docs)
	k := bits.BestRice(w.gaps)
	w.Bits(uint64(k), 5)
	code := w.Counts(c.times)
	for i, gap := range w.gaps {
		w.Rice(uint64(gap), k)
		w.Count(uint64(c.times[i]), code)
	}
}

// gapsBetween sets the gaps to those between ascending numbers, each less 1; the
// first is counted from -1.
func (w *listWriter) gapsBetween(numbers []uint32) {
	w.gaps = slices.Grow(w.gaps[:0], len(numbers))[:len(numbers)]
	next := uint32(0)
	for i, n := range numbers {
		w.gaps[i] = n - next
		next = n + 1
	}
}

// places writes where in each document the term stands: each place less the one
// before in its document, as a parameter (5 bits) and then all of them.
func (w *listWriter) places(list []posting) []byte {
	w.gaps = w.gaps[:0]
	for _, p := range list {
		slices.Sort(p.places)
		before := 0
		for _, at := range p.places {
			w.gaps = append(w.gaps, uint32(at-before))
			before = at
		}
	}
	w.Reset()
	w.gapList()
	return slices.Clone(w.Bytes())
}

// gapList writes a parameter (5 bits) and the gaps.
func (w *listWriter) gapList() {
	k := bits.BestRice(w.gaps)
	w.Bits(uint64(k), 5)
	for _, gap := range w.gaps {
		w.Rice(uint64(gap), k)
	}
}
