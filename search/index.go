package search

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"sync"

	"github.com/blevesearch/bleve/v2"
	"github.com/blevesearch/bleve/v2/analysis"
	"github.com/blevesearch/bleve/v2/document"
	"github.com/blevesearch/bleve/v2/index/scorch"
	"github.com/blevesearch/bleve/v2/search"
	bleveindex "github.com/blevesearch/bleve_index_api"

	"yearmark/search/words"
)

// The fields of the index.
const (
	fieldTitle   = "title"   // words of the title
	fieldSummary = "summary" // words of the summary
	fieldText    = "text"    // words of title, summary and text, with their positions
	fieldKind    = "kind"    // whole
	fieldMaker   = "maker"   // whole
	fieldModel   = "model"   // whole
	fieldFeature = "feature" // whole: "riser-wood=padauk"
	fieldFirst   = "first"   // number
	fieldLast    = "last"    // number
)

// The lean options of the fields: nothing stored, no values by document.
const (
	wordOptions  = bleveindex.IndexField
	placeOptions = bleveindex.IndexField | bleveindex.IncludeTermVectors
	wholeOptions = bleveindex.IndexField | bleveindex.SkipFreqNorm
)

// batchSize is how many documents are handed to Bleve at a time.
const batchSize = 4000

// Index answers questions of a set of documents. It may be used by several goroutines at once.
type Index struct {
	bleve     bleve.Index
	docs      []Document     // in order of kind, then address
	byAddress map[string]int // place in docs
	lengths   []int          // of the document at each place: the tokens of its text
	stats     *search.BM25Stats
	lexicon   *words.Lexicon
	figures   map[string][]Held // of every feature that is a figure: its ranges, in order
	dictOnce  sync.Once
	dict      *dictionary
	dictErr   error
}

// Build indexes documents in memory. It fails where two documents have one
// address or none, or one is of no kind that there is, and where ctx ends
// before it is done.
func Build(ctx context.Context, docs []Document) (*Index, error) {
	ix := &Index{docs: slices.Clone(docs), byAddress: make(map[string]int, len(docs)), lengths: make([]int, len(docs)), lexicon: &words.Lexicon{}}
	slices.SortStableFunc(ix.docs, byKind)
	for i := range ix.docs {
		d := &ix.docs[i]
		twin, double := ix.byAddress[d.Address]
		switch {
		case d.Address == "":
			return nil, fmt.Errorf("the %s %q has no address: give it one", d.Kind, d.ID)
		case double:
			return nil, fmt.Errorf("two documents have the address %q: %s and %s", d.Address, ix.docs[twin].ID, d.ID)
		case !slices.Contains(Kinds, d.Kind):
			return nil, fmt.Errorf("%q is of kind %q: want one of %s", d.Address, d.Kind, strings.Join(Kinds, ", "))
		}
		d.bound()
		ix.byAddress[d.Address] = i
	}
	ix.figures = figuresOf(ix.docs)
	if err := ix.fill(ctx); err != nil {
		return nil, fmt.Errorf("building the search index: %w", err)
	}
	return ix, nil
}

// farthest is the year, before or after the year 0, beyond which years are cut off.
const farthest = 100_000

// bound makes every span of years one that can be indexed.
func (d *Document) bound() {
	d.First, d.Last = bounded(d.First, d.Last)
	for i, h := range d.Holds {
		if first, last := bounded(h.First, h.Last); first != h.First || last != h.Last {
			d.Holds = slices.Clone(d.Holds)
			d.Holds[i].First, d.Holds[i].Last = first, last
		}
	}
}

func bounded(first, last int) (int, int) {
	first = min(max(first, -farthest), farthest)
	return first, min(max(last, first), farthest)
}

// byKind orders documents as equal hits are shown: as people meet their kinds, then by address.
func byKind(a, b Document) int {
	return cmp.Or(cmp.Compare(slices.Index(Kinds, a.Kind), slices.Index(Kinds, b.Kind)), cmp.Compare(a.Address, b.Address))
}

// Bleve knows each document by its place, written so that Bleve's order of identifiers is ours.
func placeID(place int) string { return fmt.Sprintf("%09d", place) }

// placeOf reads a place back; a document that Bleve does not have from us is a bug.
func placeOf(id string) int {
	place, err := strconv.Atoi(id)
	if err != nil {
		panic("BUG: Bleve names a document " + strconv.Quote(id))
	}
	return place
}

// Close frees the index.
func (ix *Index) Close() error { return ix.bleve.Close() }

// fill hands the documents to Bleve.
func (ix *Index) fill(ctx context.Context) error {
	m := bleve.NewIndexMapping()
	m.ScoringModel = bleveindex.BM25Scoring
	m.DefaultMapping = bleve.NewDocumentDisabledMapping()
	engine, err := bleve.NewUsing("", m, scorch.Name, scorch.Name, nil)
	if err != nil {
		return err
	}
	ix.bleve = engine
	title, summary, text := &analyzer{}, &analyzer{}, &analyzer{lexicon: ix.lexicon}
	for from := 0; from < len(ix.docs); from += batchSize {
		batch := engine.NewBatch()
		for i := from; i < min(from+batchSize, len(ix.docs)); i++ {
			if err := batch.IndexAdvanced(ix.fields(i, title, summary, &measured{text, &ix.lengths[i]})); err != nil {
				return err
			}
		}
		if err := engine.Batch(batch); err != nil {
			return err
		}
		if err := ctx.Err(); err != nil {
			return errors.Join(err, engine.Close())
		}
	}
	ix.stats = &search.BM25Stats{DocCount: float64(len(ix.docs)), FieldCardinality: map[string]int{
		fieldTitle: int(title.tokens.Load()), fieldSummary: int(summary.tokens.Load()), fieldText: int(text.tokens.Load()),
		fieldKind: 1, fieldMaker: 1, fieldModel: 1, fieldFeature: 1, fieldFirst: 1, fieldLast: 1, "*": 1, // asked for, never scored
	}}
	return nil
}

// fields lays a document out for Bleve: the mapping.
func (ix *Index) fields(place int, title, summary, text analysis.Analyzer) *document.Document {
	d := &ix.docs[place]
	doc := document.NewDocument(placeID(place))
	doc.AddField(document.NewTextFieldCustom(fieldTitle, nil, []byte(d.Title), wordOptions, title))
	if d.Summary != "" {
		doc.AddField(document.NewTextFieldCustom(fieldSummary, nil, []byte(d.Summary), wordOptions, summary))
	}
	doc.AddField(document.NewTextFieldCustom(fieldText, nil, []byte(joined([]string{d.Title, d.Summary, d.Text})), placeOptions, text))
	whole := func(field, value string) {
		if value != "" {
			doc.AddField(document.NewTextFieldCustom(field, nil, []byte(value), wholeOptions, nil))
		}
	}
	whole(fieldKind, d.Kind)
	whole(fieldMaker, d.Maker)
	whole(fieldModel, d.Model)
	for _, key := range heldKeys(d) {
		whole(fieldFeature, key)
	}
	if d.Dated() {
		doc.AddField(document.NewNumericFieldWithIndexingOptions(fieldFirst, nil, float64(d.First), wholeOptions))
		doc.AddField(document.NewNumericFieldWithIndexingOptions(fieldLast, nil, float64(d.Last), wholeOptions))
	}
	return doc
}

// Dated says whether the document has years.
func (d *Document) Dated() bool { return d.First != 0 || d.Last != 0 }

// heldKeys gives the names of a document's values, each once, sorted.
func heldKeys(d *Document) []string {
	keys := make([]string, len(d.Holds))
	for i, h := range d.Holds {
		keys[i] = h.Key()
	}
	slices.Sort(keys)
	return slices.Compact(keys)
}

// figuresOf gives the ranges of every feature that is a figure, each once.
func figuresOf(docs []Document) map[string][]Held {
	figures := map[string][]Held{}
	for i := range docs {
		for _, h := range docs[i].Holds {
			if h.IsFigure {
				figures[h.Feature] = append(figures[h.Feature], h)
			}
		}
	}
	for name, list := range figures {
		slices.SortFunc(list, func(a, b Held) int { return strings.Compare(a.Value, b.Value) })
		figures[name] = slices.CompactFunc(list, func(a, b Held) bool { return a.Value == b.Value })
	}
	return figures
}

// context carries the true totals, without which Bleve's scores would depend
// on how the index happens to be split into segments.
func (ix *Index) context() context.Context {
	return context.WithValue(context.Background(), search.BM25StatsKey, ix.stats)
}
