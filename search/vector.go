package search

import (
	"slices"
	"strings"

	"yearmark/search/words"
)

// vector is a document taken apart: what its part of the index is made from.
type vector struct {
	doc    Document
	kind   int         // place in Kinds
	length int         // tokens of the text
	heads  [2]int      // tokens of each of headings
	terms  []occurring // in no order, each term once
	words  []met       // the words met, each once
}

// met is a word in a document.
type met struct {
	word  uint32 // its number in the book of words
	times int
}

// occurring is a term in a document.
type occurring struct {
	term   uint32 // its number in the book
	heads  [2]int // how often it stands in each of headings
	places []int  // of it in the text, ascending
}

// termBook numbers terms or words. It is not safe for concurrent use.
type termBook struct {
	number map[string]uint32
	terms  []string
	order  []uint32 // of all terms, as far as it was asked for
}

func (b *termBook) of(term string) uint32 {
	n, known := b.number[term]
	if !known {
		n = uint32(len(b.terms))
		b.terms = append(b.terms, strings.Clone(term))
		b.number[b.terms[n]] = n
	}
	return n
}

// sorted gives the numbers of all terms in the order of the terms. The caller
// must not change the slice.
func (b *termBook) sorted() []uint32 {
	if len(b.order) < len(b.terms) {
		for n := len(b.order); n < len(b.terms); n++ {
			b.order = append(b.order, uint32(n))
		}
		slices.SortFunc(b.order, func(x, y uint32) int { return strings.Compare(b.terms[x], b.terms[y]) })
	}
	return b.order
}

// takenApart is a document's tokens before its terms are numbered.
type takenApart struct {
	text  []words.Token
	heads [2][]words.Token
}

// takeApart splits a document as fields lays it out.
func takeApart(s *words.Splitter, d *Document) takenApart {
	return takenApart{
		text:  s.Split(nil, joined([]string{d.Title, d.Gist, d.Text})),
		heads: [2][]words.Token{s.Split(nil, d.Title), s.Split(nil, d.Gist)},
	}
}

// books number the terms and the words of all documents.
type books struct {
	terms, words termBook
	termOf       []string // of each word
}

func newBooks() *books {
	return &books{terms: termBook{number: map[string]uint32{}}, words: termBook{number: map[string]uint32{}}}
}

// vector numbers the terms of a document taken apart.
func (b *books) vector(d Document, t takenApart) *vector {
	made := &vector{doc: d, kind: slices.Index(Kinds, d.Kind), length: len(t.text), heads: [2]int{len(t.heads[0]), len(t.heads[1])}}
	at := map[uint32]int{}
	place := func(term string) *occurring {
		n := b.terms.of(term)
		i, known := at[n]
		if !known {
			i = len(made.terms)
			at[n] = i
			made.terms = append(made.terms, occurring{term: n})
		}
		return &made.terms[i]
	}
	for _, token := range t.text {
		o := place(token.Term)
		o.places = append(o.places, token.Pos)
	}
	for h, tokens := range t.heads {
		for _, token := range tokens {
			place(token.Term).heads[h]++
		}
	}
	for i := range made.terms {
		slices.Sort(made.terms[i].places)
	}
	made.words = b.wordsMet(t.text)
	return made
}

// wordsMet counts the words of a text.
func (b *books) wordsMet(text []words.Token) []met {
	times := map[uint32]int{}
	for _, token := range text {
		if token.Word == "" {
			continue
		}
		n := b.words.of(token.Word)
		if int(n) == len(b.termOf) {
			b.termOf = append(b.termOf, strings.Clone(token.Term))
		}
		times[n]++
	}
	list := make([]met, 0, len(times))
	for n, k := range times {
		list = append(list, met{n, k})
	}
	return list
}
