package search

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"github.com/blevesearch/bleve/v2"
)

// What the page counts and offers is done here once more, by Bleve: the page is held to it.

// Facets says how many of the documents that match a question have each
// choice. A choice's own filter is left out while it is counted, so that the
// count says what choosing it instead would give.
type Facets struct {
	Total    int
	Kinds    map[string]int
	Makers   map[string]int
	Features map[string]map[string]int // of each feature named: value and count
}

// Facets counts the choices for a question, for the features named.
func (ix *Index) Facets(q Query, features []string) (Facets, error) {
	q.Features = q.Features[:min(len(q.Features), maxFeatures)]
	f := Facets{Kinds: map[string]int{}, Makers: map[string]int{}, Features: map[string]map[string]int{}}
	count := func(q Query, each func(*Document)) (int, error) {
		found, err := ix.matching(q)
		for _, i := range found {
			each(&ix.docs[i])
		}
		return len(found), err
	}
	var err error
	if f.Total, err = count(q, func(*Document) {}); err != nil {
		return f, err
	}
	open := q
	open.Kinds = nil
	if _, err = count(open, func(d *Document) { f.Kinds[d.Kind]++ }); err != nil {
		return f, err
	}
	open = q
	open.Maker = ""
	if _, err = count(open, func(d *Document) {
		if d.Maker != "" {
			f.Makers[d.Maker]++
		}
	}); err != nil {
		return f, err
	}
	for _, name := range features {
		open := q
		open.Features = slices.DeleteFunc(slices.Clone(q.Features), func(key string) bool { return strings.HasPrefix(key, name+"=") })
		values := map[string]int{}
		others := ix.wanted(open.Features)
		if _, err := count(open, func(d *Document) {
			for value := range valuesOf(d, name) {
				if inOneYear(d, append(slices.Clip(others), []string{name + "=" + value}), q.Years) {
					values[value]++
				}
			}
		}); err != nil {
			return f, err
		}
		f.Features[name] = values
	}
	return f, nil
}

// valuesOf gives the values of a feature that a document has.
func valuesOf(d *Document, feature string) map[string]bool {
	set := map[string]bool{}
	for _, h := range d.Holds {
		if h.Feature == feature {
			set[h.Value] = true
		}
	}
	return set
}

// matching gives the places of every document that matches, in order of kind and address.
func (ix *Index) matching(q Query) ([]int, error) {
	d, err := ix.dictionary()
	if err != nil {
		return nil, fmt.Errorf("reading the search index: %w", err)
	}
	p := d.plan(q.Words, q.Typing)
	if p.hopeless {
		return nil, nil
	}
	req := bleve.NewSearchRequestOptions(ix.query(p, q), len(ix.docs), 0, false)
	req.SortBy([]string{"_id"})
	req.Score = "none"
	found, err := ix.bleve.SearchInContext(ix.context(), req)
	if err != nil {
		return nil, fmt.Errorf("searching: %w", err)
	}
	places := map[int]bool{}
	for _, h := range found.Hits {
		places[placeOf(h.ID)] = true
	}
	return slices.Sorted(maps.Keys(places)), nil
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
