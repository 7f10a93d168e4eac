package search

import (
	"cmp"
	"slices"
	"strings"

	"yearmark/search/words"
)

// vector is a document taken apart: what its part of the index is made from.
type vector struct {
	doc    Document
	length int         // tokens of the text
	heads  [2]int      // tokens of each of headings
	terms  []occurring // in no order, each term once
	words  []wordEntry // the words met, each once
}

// occurring is a term in a document.
type occurring struct {
	term   uint32 // its number in the book
	heads  [2]int // how often it stands in each of headings
	places []int  // of it in the text, ascending
}

// termBook numbers terms. It is not safe for concurrent use.
type termBook struct {
	number map[string]uint32
	terms  []string
}

func (v *termBook) of(term string) uint32 {
	n, known := v.number[term]
	if !known {
		n = uint32(len(v.terms))
		v.terms = append(v.terms, strings.Clone(term))
		v.number[v.terms[n]] = n
	}
	return n
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

// vector numbers the terms of a document taken apart.
func (v *termBook) vector(d Document, t takenApart) *vector {
	made := &vector{doc: d, length: len(t.text), heads: [2]int{len(t.heads[0]), len(t.heads[1])}}
	at := map[uint32]int{}
	place := func(term string) *occurring {
		n := v.of(term)
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
	made.words = wordsMet(t.text)
	return made
}

// wordsMet counts the words of a text.
func wordsMet(text []words.Token) []wordEntry {
	var list []wordEntry
	for _, token := range text {
		if token.Word != "" {
			list = append(list, wordEntry{token.Word, token.Term, 1})
		}
	}
	slices.SortFunc(list, func(a, b wordEntry) int { return cmp.Compare(a.word, b.word) })
	once := list[:0]
	for _, e := range list {
		if n := len(once); n > 0 && once[n-1].word == e.word {
			once[n-1].met++
			continue
		}
		once = append(once, e)
	}
	return slices.Clip(once)
}
