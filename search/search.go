// Package search indexes a reference with Bleve, answers questions of it, and
// reads the finished index back out into the small files from which the page
// of the published site answers the same questions with the same ranking.
//
// A question is planned here, from the index's own dictionary: which terms
// stand for each word, its beginning or its misspelling. Bleve scores them by
// BM25. The module site/assets/js/search plans and scores alike.
package search

import (
	"yearmark/schema/edtf"
)

// The kinds of document, in the order in which people meet them.
const (
	KindMaker   = "maker"
	KindModel   = "model"
	KindEra     = "era"
	KindFeature = "feature"
	KindValue   = "value"
	KindSource  = "source"
	KindPlace   = "place" // in a source, with words
	KindExample = "example"
	KindPage    = "page"
)

// Kinds lists the kinds of document.
var Kinds = []string{KindMaker, KindModel, KindEra, KindFeature, KindValue, KindSource, KindPlace, KindExample, KindPage}

// Document is one thing that can be found: a record, an era, a value of a feature, or a place in a source.
type Document struct {
	Kind    string // one of Kinds
	ID      string // "plover", "plover/second", "riser-wood/padauk", "list-1964/p. 2"
	Title   string
	About   string // one line that tells it from others of its title
	Summary string // the few words that say what it is, or are it; they count more than Text
	Address string // its place on the site, relative to the root; unique among documents

	Maker, Model string // the identifiers it belongs to, or empty
	First, Last  int    // its years, both counted in; both 0 where it has none
	Holds        []Held // the feature values it has
	Text         string // what is searched besides Title; lines are never read as one phrase
}

// Held is one value of a feature that a document has.
type Held struct {
	Feature string
	Value   string // the value, or for a figure the range as written
	Name    string // what people call it, with the name of its feature; of a figure nothing
	// Low and High bound a figure; IsFigure says that they do.
	Low, High float64
	IsFigure  bool
	// First and Last are the years in which it can have been so; both 0 where nobody says.
	First, Last int
	Claim       string // the address of the claim that says so, or empty
	When        string // on what it depends, in words: " where the draw weight is up to 39 lb"
}

// Key names the value as a filter does: "riser-wood=padauk".
func (h Held) Key() string { return h.Feature + "=" + h.Value }

// Query is what someone asks. The zero Query matches every document.
type Query struct {
	// Words is what was typed; no character is an error. Words in quotation
	// marks must stand together; a word that ends in * stands for its beginning.
	Words    string
	Typing   bool       // the last word may be unfinished
	Kinds    []string   // any of these; empty for all
	Maker    string     // an identifier, or empty
	Model    string     // an identifier, or empty
	Features []string   // "riser-wood=padauk", "draw-weight=45": all of them, in one and the same year
	Years    edtf.Range // documents that share a year with it; the zero Range for all
	Limit    int        // how many hits; 0 means 10
	Offset   int        // after how many
}

// Result is what was found.
type Result struct {
	Total     int         // how many documents match in all
	Hits      []Hit       // best first; equal scores as Kinds stand, then by address
	Corrected []Corrected // words that no document has, and what was searched for in their place
	Near      []string    // words near to those not found, best first; only where Total is 0
	Ignored   []string    // words left out because the question was too long
}

// Hit is one document found.
type Hit struct {
	Kind, ID, Title, About, Address string
	// Score is BM25's, or 1 where no words were asked. It compares the hits of one question only.
	Score  float64
	Claims []HitClaim // the claims by which it has the features asked for
}

// HitClaim says which claim gives a hit a feature asked for, and on what that
// depends: " where the draw weight is up to 39 lb", or nothing.
type HitClaim struct{ Feature, Address, When string }

// Corrected is a word that no document has and what was searched for in its
// place: near words, or the parts of a model number.
type Corrected struct {
	Word string
	Used []string
}

// Bounds on one question.
const (
	DefaultLimit = 10
	MaxLimit     = 1000
	maxTokens    = 64 // words read
	maxWords     = 10 // words and phrases scored: the rarest words
	maxPrefix    = 8  // terms that a beginning stands for
	maxNear      = 5  // terms that a misspelling stands for
	minPrefix    = 2  // letters of a beginning
	maxFeatures  = 40 // features asked for at once
	maxPhrases   = 4  // phrases in quotation marks
	maxPhrase    = 10 // words of one phrase
)

// headings are the fields in which a word counts besides the text, and how much.
var headings = [...]heading{{fieldTitle, 1.5}, {fieldSummary, 1}}

type heading struct {
	field string
	boost float64
}

// heldBoost is how much more it counts that a word was so in the year asked for, or
// of the model, than that the year or model is named.
const heldBoost = 2.0

// exactBoost is how much more an unfinished word counts as it stands than as a beginning.
const exactBoost = 3.0
