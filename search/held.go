package search

import (
	"slices"
	"strconv"

	"yearmark/search/words"
)

// A word of a value and what the value is had in (a year, a model) count as
// one term: "padauk" and "1965" together find what had padauk in 1965 before what names
// padauk somewhere and 1965 elsewhere. Its key is the word, the mark of filters and
// what it is had in, so that it stands in the same file as the word.

// heldKey is the key of a word had in something.
func heldKey(word, in string) string { return word + string(rune(filterMark)) + in }

// heldIn gives, by such keys, the places of the documents of which it is true, ascending.
func heldIn(docs []Document) map[string][]uint32 {
	g := gatherer{terms: map[string][]string{}, numbers: map[string]uint32{}, places: map[[2]uint32][]uint32{}}
	for place := range docs {
		d := &docs[place]
		for _, h := range d.Holds {
			for _, word := range g.of(h.Name) {
				for _, model := range g.of(d.Model) {
					g.add(word, model, place)
				}
				if h.First == 0 && h.Last == 0 || h.Last-h.First > longestEra {
					continue
				}
				for year := h.First; year <= h.Last; year++ {
					g.add(word, strconv.Itoa(year), place)
				}
			}
		}
	}
	return g.named()
}

// gatherer gathers places, with numbers for words, of which there are few.
type gatherer struct {
	terms   map[string][]string // of a name
	numbers map[string]uint32
	places  map[[2]uint32][]uint32
}

// of gives the terms of a name.
func (g *gatherer) of(name string) []string {
	terms, ok := g.terms[name]
	if !ok {
		for _, t := range words.Split(name) {
			if !slices.Contains(terms, t.Term) {
				terms = append(terms, t.Term)
			}
		}
		g.terms[name] = terms
	}
	return terms
}

func (g *gatherer) number(term string) uint32 {
	n, ok := g.numbers[term]
	if !ok {
		n = uint32(len(g.numbers))
		g.numbers[term] = n
	}
	return n
}

func (g *gatherer) add(word, in string, place int) {
	key := [2]uint32{g.number(word), g.number(in)}
	if list := g.places[key]; len(list) == 0 || list[len(list)-1] != uint32(place) {
		g.places[key] = append(list, uint32(place))
	}
}

func (g *gatherer) named() map[string][]uint32 {
	names := make([]string, len(g.numbers))
	for name, n := range g.numbers {
		names[n] = name
	}
	named := make(map[string][]uint32, len(g.places))
	for key, list := range g.places {
		named[heldKey(names[key[0]], names[key[1]])] = list
	}
	return named
}

// heldEntries makes the list of every such key, in no order.
func (x *exporter) heldEntries() []*entry {
	var w setWriter
	var numbers []uint32
	entries := make([]*entry, 0, len(x.dict.held))
	for key, places := range x.dict.held {
		numbers = numbers[:0]
		for _, place := range places {
			numbers = append(numbers, x.number[place])
		}
		slices.Sort(numbers)
		entries = append(entries, &entry{key: key, text: len(places), list: w.set(numbers, len(x.order))})
	}
	return entries
}

// addHeld lets each word of a plan in which others are had stand for that as well, as
// long as every word has part in such: with a word like "catalogue" people ask for something else.
func (d *dictionary) addHeld(p *plan) {
	had := make([][]candidate, len(p.groups)) // in the word of each group
	has := func(g group, in int) bool { return len(d.held[heldKey(g.single(), p.groups[in].single())]) > 0 }
	for in := range p.groups {
		for _, g := range p.groups {
			if has(g, in) {
				had[in] = append(had[in], candidate{term: heldKey(g.single(), p.groups[in].single())})
			}
		}
	}
	var stand [][]weighted
	for in := range p.groups {
		terms := p.groups[in].terms
		alone := false
		for i, g := range p.groups {
			alone = alone || i != in && len(had[i]) == 0 && !isYear(g.single()) && !has(g, in)
		}
		if len(had[in]) > 0 && !alone {
			terms = beginnings("", append([]candidate{{term: terms[0].term}}, had[in]...))
			for i := range terms[1:] {
				terms[i+1].boost *= heldBoost
			}
		}
		stand = append(stand, terms)
	}
	for i := range stand {
		p.groups[i].terms = stand[i]
	}
}

// isYear says whether a word is four figures.
func isYear(word string) bool { return len(word) == 4 && words.HasDigit(word) }

// single is the only term of a group, or nothing.
func (g group) single() string {
	if len(g.terms) == 1 {
		return g.terms[0].term
	}
	return ""
}
