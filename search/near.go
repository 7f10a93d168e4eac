package search

import (
	"cmp"
	"slices"

	"yearmark/schema/edits"
)

// nearWords gives the words that people may have meant by words that nothing
// stands for, nearest and then commonest first, eight at most.
func (d *dictionary) nearWords(unknown []string) []string {
	type near struct {
		word          string
		distance, met int
	}
	var all []near
	for _, w := range unknown {
		letters := []rune(w)
		if len(letters) == 0 {
			continue
		}
		allowed := generous(letters)
		for _, e := range d.beginning(string(letters[:1])) {
			if n := edits.Distance(letters, []rune(e.word), allowed); n <= allowed {
				all = append(all, near{e.word, n, e.met})
			}
		}
	}
	slices.SortFunc(all, func(a, b near) int {
		return cmp.Or(cmp.Compare(a.distance, b.distance), cmp.Compare(b.met, a.met), cmp.Compare(a.word, b.word))
	})
	var list []string
	for _, n := range all {
		if len(list) < 8 && !slices.Contains(list, n.word) {
			list = append(list, n.word)
		}
	}
	return list
}

// generous is how many changes a word may be away to be offered, though not searched for.
func generous(letters []rune) int {
	switch n := len(letters); {
	case n < 5:
		return 1
	case n < 8:
		return 2
	}
	return 3
}

// Suggest gives words of the reference that begin as the last word of start does, the commonest first.
func (ix *Index) Suggest(start string, limit int) ([]string, error) {
	d, err := ix.dictionary()
	if err != nil {
		return nil, err
	}
	last, ok := lastWord(start)
	if !ok {
		return nil, nil
	}
	var list []string
	for _, c := range d.prefixed(last, max(limit, 0)) {
		list = append(list, c.word)
	}
	return list, nil
}

// lastWord gives the folded word that a text ends in.
func lastWord(text string) (string, bool) {
	wishes, _ := parse(text, true)
	if len(wishes) == 0 || !wishes[len(wishes)-1].prefix {
		return "", false
	}
	return wishes[len(wishes)-1].word, true
}
