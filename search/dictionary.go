package search

import (
	"cmp"
	"slices"
	"sort"
	"strings"

	"yearmark/schema/edits"
	"yearmark/search/words"
)

// dictionary is what planning needs of a finished index: in how many documents
// each term stands, and the words that people know the terms by.
type dictionary struct {
	text     map[string]int
	held     map[string][]uint32 // see heldIn
	headings []map[string]int    // of each of headings
	words    []wordEntry         // in order of word
}

// wordEntry is one word, the term it stands for, and how often it was met.
type wordEntry struct {
	word, term string
	met        int
}

// dictionary reads the index's dictionary, once.
func (ix *Index) dictionary() (*dictionary, error) {
	ix.dictOnce.Do(func() { ix.dict, ix.dictErr = ix.readDictionary() })
	return ix.dict, ix.dictErr
}

func (ix *Index) readDictionary() (*dictionary, error) {
	d := &dictionary{held: heldIn(ix.docs)}
	var err error
	if d.text, err = ix.termCounts(fieldText); err != nil {
		return nil, err
	}
	for _, h := range headings {
		counts, err := ix.termCounts(h.field)
		if err != nil {
			return nil, err
		}
		d.headings = append(d.headings, counts)
	}
	ix.lexicon.Each(func(word, term string, met int) {
		d.words = append(d.words, wordEntry{word, term, met})
	})
	slices.SortFunc(d.words, func(a, b wordEntry) int { return cmp.Compare(a.word, b.word) })
	return d, nil
}

// termCounts gives in how many documents each term of a field stands.
func (ix *Index) termCounts(field string) (map[string]int, error) {
	dict, err := ix.bleve.FieldDict(field)
	if err != nil {
		return nil, err
	}
	defer dict.Close()
	counts := map[string]int{}
	for {
		e, err := dict.Next()
		if err != nil {
			return nil, err
		}
		if e == nil {
			return counts, nil
		}
		counts[e.Term] += int(e.Count)
	}
}

// beginning gives the words that begin so, in order.
func (d *dictionary) beginning(start string) []wordEntry {
	lo := sort.Search(len(d.words), func(i int) bool { return d.words[i].word >= start })
	hi := lo
	for hi < len(d.words) && strings.HasPrefix(d.words[hi].word, start) {
		hi++
	}
	return d.words[lo:hi]
}

// candidate is one term that may stand for what was typed.
type candidate struct {
	term string
	word string // the commonest of its words among those that fit
	best int    // how often that one was met
	met  int    // how often they all were
}

// prefixed gives the terms whose words begin so, the commonest first.
func (d *dictionary) prefixed(start string, limit int) []candidate {
	return ranked(d.beginning(start), limit)
}

// near gives the terms whose words are nearest to the word by letters changed, left
// out, put in or swapped: the first letter must be right, one change is
// allowed in words of four or five letters and two in longer ones. Where words
// that share the first two letters are one change away, no others are looked at.
func (d *dictionary) near(word string, limit int) []candidate {
	letters := []rune(word)
	allowed := tolerance(letters)
	if allowed == 0 {
		return nil
	}
	distance, list := nearest(letters, d.beginning(string(letters[:2])), allowed)
	if distance != 1 || len(list) == 0 {
		_, list = nearest(letters, d.beginning(string(letters[:1])), allowed)
	}
	return ranked(list, limit)
}

// nearest gives the least distance of words to the letters, allowed at most, and the words at that distance.
func nearest(letters []rune, list []wordEntry, allowed int) (int, []wordEntry) {
	var near []wordEntry
	least := allowed
	for _, e := range list {
		if words.HasDigit(e.word) {
			continue
		}
		switch n := edits.Distance(letters, []rune(e.word), least); {
		case n < least:
			least, near = n, []wordEntry{e}
		case n == least:
			near = append(near, e)
		}
	}
	return least, near
}

// tolerance is how many changes a misspelt word may need.
func tolerance(letters []rune) int {
	switch {
	case len(letters) < 4 || words.HasDigit(string(letters)):
		return 0
	case len(letters) < 6:
		return 1
	}
	return 2
}

// ranked gathers words by their term and gives the commonest first.
func ranked(list []wordEntry, limit int) []candidate {
	byTerm := map[string]int{}
	var all []candidate
	for _, e := range list {
		i, ok := byTerm[e.term]
		if !ok {
			i = len(all)
			byTerm[e.term] = i
			all = append(all, candidate{term: e.term})
		}
		c := &all[i]
		c.met += e.met
		if e.met > c.best {
			c.word, c.best = e.word, e.met
		}
	}
	slices.SortFunc(all, func(a, b candidate) int {
		return cmp.Or(cmp.Compare(b.met, a.met), cmp.Compare(a.term, b.term))
	})
	return all[:min(limit, len(all))]
}
