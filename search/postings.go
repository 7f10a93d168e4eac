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
	freq   int
	length int   // tokens of the field
	places []int // of the term in the text
}

// wordEntries reads every term of text and title, in order.
//
// A term's list is a string of bits: the parameter of its gaps (5 bits) and the code of its
// frequencies (3 bits); for each document the gap to the one before, less 1, and
// the frequency; then, for each heading that has the term, the same for
// that heading, with places in the list in the place of document numbers, and the length of each heading.
func (x *exporter) wordEntries() ([]entry, error) {
	terms := make([]string, 0, len(x.dict.text))
	for term := range x.dict.text {
		terms = append(terms, term)
	}
	slices.Sort(terms)
	entries := make([]entry, len(terms))
	const stretch = 256
	var group sync.WaitGroup
	errs := make(chan error, len(terms)/stretch+1)
	free := make(chan struct{}, runtime.GOMAXPROCS(0))
	for from := 0; from < len(terms); from += stretch {
		to := min(from+stretch, len(terms))
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
		return entries, nil
	}
}

// readTerms reads some terms.
func (x *exporter) readTerms(terms []string, entries []entry) error {
	return x.reading(func(r bleveindex.IndexReader) error {
		var w listWriter
		var text, more []posting
		for i, term := range terms {
			var err error
			if text, err = x.postings(text[:0], r, fieldText, term); err != nil {
				return err
			}
			e := entry{key: term, text: len(text)}
			w.Reset()
			w.documents(text)
			for j, h := range headings {
				if x.dict.headings[j][term] == 0 {
					continue
				}
				if more, err = x.postings(more[:0], r, h.field, term); err != nil {
					return err
				}
				e.headings[j] = len(more)
				w.heading(text, more)
			}
			e.list = slices.Clone(w.Bytes())
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
		p := posting{doc: x.internal[at.ID.Value()], freq: int(at.Freq), length: int(math.Round(1 / (at.Norm * at.Norm)))}
		for _, v := range at.Vectors {
			p.places = append(p.places, int(v.Pos))
		}
		dst = append(dst, p)
	}
	slices.SortFunc(dst, func(a, b posting) int { return cmp.Compare(a.doc, b.doc) })
	return dst, nil
}

// listWriter writes lists, keeping its room.
type listWriter struct {
	bits.Writer
	gaps, counts, lengths []uint32
	inText                []posting
}

// heading writes the documents whose heading has the term.
func (w *listWriter) heading(text, heading []posting) {
	w.inText = within(w.inText[:0], text, heading)
	w.documents(w.inText)
	w.lengths = w.lengths[:0]
	for i := range heading {
		w.lengths = append(w.lengths, uint32(heading[i].length))
	}
	code := w.Counts(w.lengths)
	for _, n := range w.lengths {
		w.Count(uint64(n), code)
	}
}

// within appends a heading's postings with their places in the text list for document numbers.
// Every heading is part of its document's text.
func within(list, text, heading []posting) []posting {
	at := 0
	for i := range heading {
		p := &heading[i]
		for text[at].doc != p.doc {
			at++
		}
		list = append(list, posting{doc: uint32(at), freq: p.freq})
	}
	return list
}

// documents writes document numbers and frequencies.
func (w *listWriter) documents(list []posting) {
	w.gaps, w.counts = w.gaps[:0], w.counts[:0]
	next := uint32(0)
	for i := range list {
		p := &list[i]
		w.gaps = append(w.gaps, p.doc-next)
		w.counts = append(w.counts, uint32(p.freq))
		next = p.doc + 1
	}
	k := bits.BestRice(w.gaps)
	w.Bits(uint64(k), 5)
	code := w.Counts(w.counts)
	for i, gap := range w.gaps {
		w.Rice(uint64(gap), k)
		w.Count(uint64(w.counts[i]), code)
	}
}

// places writes where in each document the term stands.
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
	return w.writeGaps()
}

// writeGaps writes places, each less the one before in its document: a
// parameter (5 bits), then all of them.
func (w *listWriter) writeGaps() []byte {
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
