package search

import (
	"sync"
	"sync/atomic"

	"github.com/blevesearch/bleve/v2/analysis"

	"yearmark/search/words"
)

// analyzer splits text for Bleve by the rules of package words, and counts the tokens.
type analyzer struct {
	lexicon   *words.Lexicon
	tokens    atomic.Int64
	splitters sync.Pool
}

// splitting is one goroutine's means.
type splitting struct {
	words.Splitter
	tokens []words.Token
}

// Analyze gives the tokens of a text. It may be called by several goroutines at once.
func (a *analyzer) Analyze(text []byte) analysis.TokenStream {
	s, _ := a.splitters.Get().(*splitting)
	if s == nil {
		s = &splitting{}
		s.Lexicon = a.lexicon
	}
	s.tokens = s.Split(s.tokens[:0], string(text))
	block := make([]analysis.Token, len(s.tokens))
	stream := make(analysis.TokenStream, len(s.tokens))
	for i, t := range s.tokens {
		block[i] = analysis.Token{Term: []byte(t.Term), Start: t.Start, End: t.End, Position: t.Pos, Type: analysis.AlphaNumeric}
		stream[i] = &block[i]
	}
	a.tokens.Add(int64(len(stream)))
	a.splitters.Put(s)
	return stream
}

// measured is the analyzer for the text of one document, whose length it notes.
type measured struct {
	*analyzer
	length *int
}

// Analyze gives the tokens of the document's text.
func (m *measured) Analyze(text []byte) analysis.TokenStream {
	stream := m.analyzer.Analyze(text)
	*m.length = len(stream)
	return stream
}
