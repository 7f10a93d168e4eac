package search

import (
	"encoding/binary"
	"math"
	mathbits "math/bits"
	"slices"
)

// setWriter writes sets of documents, keeping its buffers.
type setWriter struct {
	listWriter
	docs []uint32
}

// set writes a set of documents, given by number, of so many.
func (w *setWriter) set(docs []uint32, of int) []byte {
	if 2*len(docs) <= of {
		return w.side(docs, false)
	}
	set := newDocumentSet(of)
	set.add(docs)
	return w.setOf(set)
}

// setOf writes a set.
func (w *setWriter) setOf(set *documentSet) []byte {
	outside := 2*set.size > set.of
	w.docs = set.appendTo(w.docs[:0], outside)
	return w.side(w.docs, outside)
}

// side writes one bit that says whether the documents in the set or those
// outside follow, a parameter (5 bits), and the gaps.
func (w *setWriter) side(docs []uint32, outside bool) []byte {
	w.Reset()
	w.Flag(outside)
	w.numbers(docs)
	return slices.Clone(w.Bytes())
}

// documentSet is a set of documents by number.
type documentSet struct {
	words []uint64 // 64w+b is in the set where bit b of word w is 1
	of    int      // how many documents there are
	size  int      // how many are in the set
}

func newDocumentSet(of int) *documentSet {
	return &documentSet{words: make([]uint64, (of+63)/64), of: of}
}

// add adds documents that are not in the set.
func (s *documentSet) add(docs []uint32) {
	for _, n := range docs {
		s.words[n/64] |= 1 << (n % 64)
	}
	s.size += len(docs)
}

// appendTo appends the documents in the set, or those outside.
func (s *documentSet) appendTo(docs []uint32, outside bool) []uint32 {
	for i, word := range s.words {
		if outside {
			word = ^word
			if last := s.of - 64*i; last < 64 {
				word &= 1<<last - 1
			}
		}
		for ; word != 0; word &= word - 1 {
			docs = append(docs, uint32(64*i+mathbits.TrailingZeros64(word)))
		}
	}
	return docs
}

// numbers writes a parameter (5 bits) and ascending numbers.
func (w *listWriter) numbers(docs []uint32) {
	w.gapsBetween(docs)
	w.gapList()
}

// holder is a document and a value that it has.
type holder struct {
	doc uint32
	*Held
}

// held writes the documents, in order of number, that have a value and the years in which they
// have it: whether it is a figure's range (one byte) and its two ends (8 bytes each); the
// earliest year (varint), then bits: the width of years (5), the documents; for
// each document how often it has the value, less 1, in unary, and for each time
// whether there are years, the first of them less the earliest, and their number less 1.
func (w *setWriter) held(list []holder) (docs int, b []byte) {
	b = append(b, 0)
	if h := list[0]; h.IsFigure {
		b[0] = 1
		b = binary.LittleEndian.AppendUint64(b, math.Float64bits(h.Low))
		b = binary.LittleEndian.AppendUint64(b, math.Float64bits(h.High))
	}
	earliest, width := yearWidth(list)
	b = binary.AppendVarint(b, int64(earliest))
	w.docs = w.docs[:0]
	for i := range list {
		if i == 0 || list[i].doc != list[i-1].doc {
			w.docs = append(w.docs, list[i].doc)
		}
	}
	w.Reset()
	w.Bits(uint64(width), 5)
	w.numbers(w.docs)
	for from, to := 0, 0; from < len(list); from = to {
		for to = from; to < len(list) && list[to].doc == list[from].doc; to++ {
		}
		w.Unary(uint64(to - from - 1))
		for _, h := range list[from:to] {
			dated := h.First != 0 || h.Last != 0
			w.Flag(dated)
			if dated {
				w.Bits(uint64(h.First-earliest), width)
				w.Gamma(uint64(h.Last - h.First + 1))
			}
		}
	}
	return len(w.docs), append(b, w.Bytes()...)
}

// yearWidth gives the earliest year of a list and how many bits the first years above it take.
func yearWidth(list []holder) (earliest, width int) {
	latest, any := 0, false
	for _, h := range list {
		if h.First == 0 && h.Last == 0 {
			continue
		}
		if !any || h.First < earliest {
			earliest = h.First
		}
		if !any || h.First > latest {
			latest = h.First
		}
		any = true
	}
	for latest-earliest >= 1<<width {
		width++
	}
	return earliest, width
}
