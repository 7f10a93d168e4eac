package search

import (
	"testing"
	"time"

	"github.com/blevesearch/bleve/v2"
	_ "github.com/blevesearch/bleve/v2/analysis/analyzer/keyword"
	_ "github.com/blevesearch/bleve/v2/analysis/lang/en"
	"github.com/blevesearch/bleve/v2/index/scorch"
	"github.com/blevesearch/bleve/v2/mapping"
)

// bareDocument is a document as Bleve's own mapping reads it.
type bareDocument struct {
	Title, Gist, Text, Kind, Maker, Model string
	Features                              []string
	First, Last                           float64
}

// bareMapping maps the same fields with Bleve's own means: its English analyzer, positions in
// the text, whole keywords, numbers; nothing stored.
func bareMapping() *mapping.IndexMappingImpl {
	m := bleve.NewIndexMapping()
	m.ScoringModel = "bm25"
	doc := bleve.NewDocumentStaticMapping()
	field := func(name, analyzer string, places bool) {
		f := bleve.NewTextFieldMapping()
		f.Analyzer, f.Store, f.IncludeTermVectors, f.IncludeInAll, f.DocValues = analyzer, false, places, false, false
		doc.AddFieldMappingsAt(name, f)
	}
	field("Title", "en", false)
	field("Gist", "en", false)
	field("Text", "en", true)
	for _, name := range []string{"Kind", "Maker", "Model", "Features"} {
		field(name, "keyword", false)
	}
	for _, name := range []string{"First", "Last"} {
		f := bleve.NewNumericFieldMapping()
		f.Store, f.IncludeInAll, f.DocValues = false, false, false
		doc.AddFieldMappingsAt(name, f)
	}
	m.DefaultMapping = doc
	return m
}

// bareIndex indexes documents with nothing but Bleve.
func bareIndex(docs []Document) (bleve.Index, error) {
	engine, err := bleve.NewUsing("", bareMapping(), scorch.Name, scorch.Name, nil)
	if err != nil {
		return nil, err
	}
	for from := 0; from < len(docs); from += batchSize {
		batch := engine.NewBatch()
		for i := from; i < min(from+batchSize, len(docs)); i++ {
			d := &docs[i]
			bare := bareDocument{d.Title, d.Summary, d.Title + "\n" + d.Summary + "\n" + d.Text, d.Kind, d.Maker, d.Model, heldKeys(d), float64(d.First), float64(d.Last)}
			if err := batch.Index(d.Address, bare); err != nil {
				return nil, err
			}
		}
		if err := engine.Batch(batch); err != nil {
			return nil, err
		}
	}
	return engine, nil
}

// BenchmarkIndex reports the time to index documents and write the shards, and its ratio
// to indexing the same documents with bare Bleve in memory.
func BenchmarkIndex(b *testing.B) {
	docs := made(10_000)
	var bare, ours time.Duration
	for b.Loop() {
		start := time.Now()
		engine, err := bareIndex(docs)
		if err != nil {
			b.Fatal(err)
		}
		bare += time.Since(start)
		engine.Close()
		start = time.Now()
		ix, err := Build(b.Context(), docs)
		if err != nil {
			b.Fatal(err)
		}
		if _, err := ix.Shards(b.Context()); err != nil {
			b.Fatal(err)
		}
		ours += time.Since(start)
		ix.Close()
	}
	b.ReportMetric(bare.Seconds()/float64(b.N), "bare-s")
	b.ReportMetric(ours.Seconds()/float64(b.N), "ours-s")
	b.ReportMetric(ours.Seconds()/bare.Seconds(), "ratio")
}
