package search

import (
	"context"
	"fmt"
	"math"

	"github.com/blevesearch/bleve/v2"
	"github.com/blevesearch/bleve/v2/mapping"
	"github.com/blevesearch/bleve/v2/search"
	"github.com/blevesearch/bleve/v2/search/query"
	"github.com/blevesearch/bleve/v2/search/searcher"
	bleveindex "github.com/blevesearch/bleve_index_api"

	"yearmark/schema/edtf"
)

// Find answers a question. An error means that the index itself broke, never
// that nothing was found or that the question was odd.
func (ix *Index) Find(q Query) (Result, error) {
	d, err := ix.dictionary()
	if err != nil {
		return Result{}, fmt.Errorf("reading the search index: %w", err)
	}
	q.Features = q.Features[:min(len(q.Features), maxFeatures)]
	p := d.plan(q.Words, q.Typing)
	r := Result{Corrected: p.corrected, Ignored: p.ignored}
	if !p.hopeless {
		if err := ix.run(&r, p, q); err != nil {
			return Result{}, fmt.Errorf("searching: %w", err)
		}
	}
	if r.Total == 0 {
		r.Near = d.nearWords(p.unknown)
	}
	return r, nil
}

// run asks Bleve and lays out its hits.
func (ix *Index) run(r *Result, p plan, q Query) error {
	limit := q.Limit
	if limit <= 0 {
		limit = DefaultLimit
	}
	req := bleve.NewSearchRequestOptions(ix.query(p, q), min(limit, MaxLimit), max(q.Offset, 0), false)
	req.SortBy([]string{"-_score", "_id"})
	found, err := ix.bleve.SearchInContext(ix.context(), req)
	if err != nil {
		return err
	}
	r.Total = int(found.Total)
	for _, h := range found.Hits {
		d := &ix.docs[placeOf(h.ID)]
		r.Hits = append(r.Hits, Hit{
			Kind: d.Kind, ID: d.ID, Title: d.Title, About: d.About, Address: d.Address,
			Score: h.Score, Claims: ix.claims(d, q),
		})
	}
	return nil
}

// query builds what Bleve is asked. What filters takes no part in the score.
func (ix *Index) query(p plan, q Query) query.Query {
	var must []query.Query
	if len(p.groups) > 0 || len(p.phrases) > 0 {
		must = []query.Query{ix.wordsQuery(p)}
	}
	filters := append(ix.filters(q), phraseQueries(p)...)
	switch {
	case len(filters) > 0:
		filtered := query.NewBooleanQuery(must, nil, nil)
		filtered.AddFilter(query.NewConjunctionQuery(filters))
		return ix.together(filtered, q)
	case len(must) > 0:
		return must[0]
	}
	return query.NewMatchAllQuery()
}

// wordsQuery asks for any of the phrases and words of a plan: the sum of what
// they score times the share that a document has. (A Boolean query with a
// Should part inside another would lose scores when Bleve skips ahead in it.)
func (ix *Index) wordsQuery(p plan) query.Query {
	parts := phraseQueries(p)
	for _, g := range p.groups {
		parts = append(parts, ix.groupQuery(g))
	}
	return query.NewDisjunctionQuery(parts)
}

// heldQuery asks for documents by place.
func heldQuery(places []uint32) *query.DocIDQuery {
	ids := make([]string, len(places))
	for i, place := range places {
		ids[i] = placeID(int(place))
	}
	return query.NewDocIDQuery(ids)
}

// rarity is BM25's inverse document frequency.
func rarity(total, count int) float64 {
	return math.Log(1 + (float64(total)-float64(count)+0.5)/(float64(count)+0.5))
}

func phraseQueries(p plan) []query.Query {
	list := make([]query.Query, len(p.phrases))
	for i, ph := range p.phrases {
		list[i] = query.NewPhraseQuery(ph, fieldText)
	}
	return list
}

// groupQuery asks for any of the terms that stand for one word.
func (ix *Index) groupQuery(g group) query.Query {
	terms := make([]query.Query, len(g.terms))
	for i, t := range g.terms {
		terms[i] = ix.boostedQuery(t)
	}
	if len(terms) == 1 {
		return terms[0]
	}
	return query.NewDisjunctionQuery(terms)
}

// boostedQuery asks for a term in the text, and adds what it scores in headings.
func (ix *Index) boostedQuery(t weighted) query.Query {
	if places, ok := ix.dict.held[t.term]; ok {
		held, rare := heldQuery(places), rarity(len(ix.docs), len(places))
		held.SetBoost(t.boost * rare * rare)
		return held
	}
	text := termQuery(fieldText, t.term)
	text.SetBoost(t.boost)
	var all query.Query = text
	for i, h := range headings {
		if ix.dict.headings[i][t.term] == 0 {
			continue
		}
		more := termQuery(h.field, t.term)
		more.SetBoost(t.boost * h.boost)
		all = query.NewBooleanQuery([]query.Query{all}, []query.Query{more}, nil)
	}
	return all
}

func termQuery(field, term string) *query.TermQuery {
	t := query.NewTermQuery(term)
	t.SetField(field)
	return t
}

// filters asks for kind, maker, model, features and years.
func (ix *Index) filters(q Query) []query.Query {
	var list []query.Query
	if len(q.Kinds) > 0 {
		list = append(list, anyOf(fieldKind, q.Kinds))
	}
	if q.Maker != "" {
		list = append(list, termQuery(fieldMaker, q.Maker))
	}
	if q.Model != "" {
		list = append(list, termQuery(fieldModel, q.Model))
	}
	for _, f := range q.Features {
		list = append(list, anyOf(fieldFeature, ix.featureKeys(f)))
	}
	if q.Years != (edtf.Range{}) {
		first, last := float64(q.Years.First), float64(q.Years.Last)
		list = append(list, numericRange(fieldFirst, nil, &last), numericRange(fieldLast, &first, nil))
	}
	return list
}

// anyOf asks for one of several whole values.
func anyOf(field string, values []string) query.Query {
	terms := make([]query.Query, len(values))
	for i, v := range values {
		terms[i] = termQuery(field, v)
	}
	if len(terms) == 0 {
		return query.NewMatchNoneQuery()
	}
	return query.NewDisjunctionQuery(terms)
}

func numericRange(field string, lo, hi *float64) query.Query {
	yes := true
	q := query.NewNumericRangeInclusiveQuery(lo, hi, &yes, &yes)
	q.SetField(field)
	return q
}

// together keeps the documents that have the features asked for in one and the
// same year, within the years asked for.
func (ix *Index) together(main query.Query, q Query) query.Query {
	if len(q.Features) == 0 || len(q.Features) == 1 && q.Years == (edtf.Range{}) {
		return main
	}
	wanted := ix.wanted(q.Features)
	return &kept{Query: main, keep: func(place int) bool {
		return inOneYear(&ix.docs[place], wanted, q.Years)
	}}
}

// kept is a query whose hits must also pass a test of ours.
type kept struct {
	query.Query
	keep func(place int) bool
}

// Searcher makes Bleve's searcher for it.
func (k *kept) Searcher(ctx context.Context, r bleveindex.IndexReader, m mapping.IndexMapping, o search.SearcherOptions) (search.Searcher, error) {
	inner, err := k.Query.Searcher(ctx, r, m, o)
	if err != nil {
		return nil, err
	}
	return searcher.NewFilteringSearcher(ctx, inner, func(_ *search.SearchContext, d *search.DocumentMatch) bool {
		id, err := r.ExternalID(d.IndexInternalID)
		return err == nil && k.keep(placeOf(id))
	}), nil
}
