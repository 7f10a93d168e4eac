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
