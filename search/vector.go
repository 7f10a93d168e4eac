package search

import (
	"encoding/binary"
	"slices"
	"strings"
	"sync"

	"yearmark/search/words"
)

// vector is a document taken apart: what its part of the index is made from.
type vector struct {
	doc    Document // without its text
	kind   int      // place in Kinds
	length int      // tokens of the text
	heads  [2]int   // tokens of each of headings
	terms  []uint32 // their numbers in the book of terms, each once
	// where holds for each of terms in turn how often it stands in the text and
	// in each of headings, and the gaps between its places in the text; begins
	// says where each term's part of it begins.
	where  []byte
	begins []uint32
	words  []uint32 // their numbers in the book of words, each once
	times  []byte   // how often each of words was met
	asked  filtering

	place int    // among all documents in order
	slot  uint32 // see standing
	round uint32 // the last round of it in which the document was there
}

// timesOf says how often one of the document's terms stands in its text.
func (v *vector) timesOf(i int) uint32 {
	times, _ := readUvarint(v.where, int(v.begins[i]))
	return uint32(times)
}

// occurrence gives what is kept of one of the document's terms. It writes the
// gaps between the places in the text where the term stands, the first counted
// from the text's beginning, to the front of gaps.
func (v *vector) occurrence(i int, gaps []uint32) occurrence {
	times, at := readUvarint(v.where, int(v.begins[i]))
	first, at := readUvarint(v.where, at)
	second, at := readUvarint(v.where, at)
	for k := range gaps[:times] {
		var gap int
		gap, at = readUvarint(v.where, at)
		gaps[k] = uint32(gap)
	}
	return occurrence{v.slot, uint32(times), [2]uint32{uint32(first), uint32(second)}}
}

func readUvarint(b []byte, at int) (n, next int) {
	if c := b[at]; c < 0x80 {
		return int(c), at + 1
	}
	x, size := binary.Uvarint(b[at:])
	return int(x), at + size
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
	order := func(x, y uint32) int { return strings.Compare(b.terms[x], b.terms[y]) }
	if anew := len(b.terms) - len(b.order); anew <= fewTerms {
		for n := uint32(len(b.order)); int(n) < len(b.terms); n++ {
			at, _ := slices.BinarySearchFunc(b.order, n, order)
			b.order = slices.Insert(b.order, at, n)
		}
		return b.order
	}
	for n := len(b.order); n < len(b.terms); n++ {
		b.order = append(b.order, uint32(n))
	}
	slices.SortFunc(b.order, order)
	return b.order
}

// fewTerms are so few that each is put in its place among the others, where
// more are sorted with them.
const fewTerms = 64

// books number the terms, the words and the filters of all documents.
type books struct {
	terms, words, filters termBook
	termOf                []string // of each word
}

func newBooks() *books {
	book := func() termBook { return termBook{number: map[string]uint32{}} }
	return &books{terms: book(), words: book(), filters: book()}
}

// takenApart is a document's tokens, summed up, before terms and words are numbered.
type takenApart struct {
	doc    Document
	length int
	heads  [2]int
	where  []byte // as in vector
	begins []uint32
	times  []byte
	*spelled
}

// spelled is the terms and words of a document, which it has until they are
// numbered: then the room is used again.
type spelled struct {
	terms []string // each once
	words []spelling
}

var spelledRooms = sync.Pool{New: func() any { return &spelled{} }}

// spelling is a word as it was written, and the term that it is found by.
type spelling struct{ word, term string }

// vector numbers the terms and words of a document taken apart, which has none
// after it.
func (b *books) vector(t takenApart) *vector {
	defer spelledRooms.Put(t.spelled)
	d := t.doc
	d.Text, d.Gist = "", ""
	made := &vector{
		doc: d, kind: slices.Index(Kinds, d.Kind), length: t.length, heads: t.heads, where: t.where, begins: t.begins, times: t.times,
		terms: make([]uint32, len(t.terms)), words: make([]uint32, len(t.words)), asked: b.filters.filtering(&d),
	}
	for i, term := range t.terms {
		made.terms[i] = b.terms.of(term)
	}
	for i, w := range t.words {
		n := b.words.of(w.word)
		if int(n) == len(b.termOf) {
			b.termOf = append(b.termOf, strings.Clone(w.term))
		}
		made.words[i] = n
	}
	return made
}

// taker takes documents apart, keeping its room. It must not be used by two
// goroutines at once.
type taker struct {
	split  *words.Splitter
	text   []words.Token
	heads  [2][]words.Token
	at     map[string]int // places in terms, then in words
	counts [][3]int       // of each term: in the text, in each of headings
	terms  []string
	places []int // in the text, term by term
	next   []int
	met    []spelling
	times  []int
	out    []byte
}

func newTaker(lexicon *words.Lexicon) *taker {
	return &taker{split: &words.Splitter{Lexicon: lexicon}, at: map[string]int{}}
}

// apart splits a document as fields lays it out.
func (t *taker) apart(d *Document) takenApart {
	t.text = t.split.Split(t.text[:0], joined([]string{d.Title, d.Gist, d.Text}))
	t.heads[0] = t.split.Split(t.heads[0][:0], d.Title)
	t.heads[1] = t.split.Split(t.heads[1][:0], d.Gist)
	made := takenApart{doc: *d, length: len(t.text), heads: [2]int{len(t.heads[0]), len(t.heads[1])}, spelled: spelledRooms.Get().(*spelled)}
	made.where, made.begins = t.sumTerms()
	made.times = t.sumWords()
	made.terms, made.words = append(made.terms[:0], t.terms...), append(made.words[:0], t.met...)
	return made
}

// sumTerms counts the terms and writes where each stands.
func (t *taker) sumTerms() (where []byte, begins []uint32) {
	clear(t.at)
	t.terms, t.counts = t.terms[:0], t.counts[:0]
	for field, tokens := range [][]words.Token{t.text, t.heads[0], t.heads[1]} {
		for i := range tokens {
			t.counts[t.place(tokens[i].Term)][field]++
		}
	}
	t.next = t.next[:0]
	total := 0
	for _, c := range t.counts {
		t.next = append(t.next, total)
		total += c[0]
	}
	t.places = slices.Grow(t.places[:0], total)[:total]
	for i := range t.text {
		n := t.at[t.text[i].Term]
		t.places[t.next[n]] = t.text[i].Pos
		t.next[n]++
	}
	t.out = t.out[:0]
	begins = make([]uint32, len(t.counts))
	for n, c := range t.counts {
		begins[n] = uint32(len(t.out))
		for _, count := range c {
			t.out = binary.AppendUvarint(t.out, uint64(count))
		}
		places := t.places[t.next[n]-c[0] : t.next[n]]
		slices.Sort(places)
		before := 0
		for _, at := range places {
			t.out = binary.AppendUvarint(t.out, uint64(at-before))
			before = at
		}
	}
	return slices.Clone(t.out), begins
}

// place is the term's among those of the document.
func (t *taker) place(term string) int {
	n, known := t.at[term]
	if !known {
		n = len(t.terms)
		t.at[term] = n
		t.terms, t.counts = append(t.terms, term), append(t.counts, [3]int{})
	}
	return n
}

// sumWords counts the words of the text.
func (t *taker) sumWords() (times []byte) {
	clear(t.at)
	t.met, t.times, t.out = t.met[:0], t.times[:0], t.out[:0]
	for i := range t.text {
		token := &t.text[i]
		if token.Word == "" {
			continue
		}
		n, known := t.at[token.Word]
		if !known {
			n = len(t.met)
			t.at[token.Word] = n
			t.met, t.times = append(t.met, spelling{token.Word, token.Term}), append(t.times, 0)
		}
		t.times[n]++
	}
	for _, n := range t.times {
		t.out = binary.AppendUvarint(t.out, uint64(n))
	}
	return slices.Clone(t.out)
}
