// Package csl writes sources as CSL-JSON, which reference managers and citation
// processors read (Citation Style Language 1.0.2, csl-data.json), and reads
// them from it.
//
// CSL has no type for an advertisement or for an object, and its dates are
// calendar dates with one mark for "about". What would be lost stands under
// custom.yearmark as records have it: the kind of source, the date in EDTF, the
// sources that it relies on.
package csl

import (
	"bufio"
	"encoding/json"
	"io"
	"strconv"

	"yearmark/schema"
)

// Item is one source. Its fields are those of CSL-JSON that sources fill.
type Item struct {
	ID       string  `json:"id"`
	Type     string  `json:"type"`
	Title    string  `json:"title,omitempty"`
	Genre    string  `json:"genre,omitempty"`
	Author   []Name  `json:"author,omitempty"`
	Issued   *Date   `json:"issued,omitempty"`
	Archive  string  `json:"archive,omitempty"`
	URL      string  `json:"URL,omitempty"`
	Accessed *Date   `json:"accessed,omitempty"`
	Custom   *Custom `json:"custom,omitempty"`
}

// Name is a person or firm. Sources give names as people write them.
type Name struct {
	Literal string `json:"literal"`
}

// Custom holds what CSL has no field for.
type Custom struct {
	Yearmark Kept `json:"yearmark"`
}

// Kept is a source's own keys, as its record has them.
type Kept struct {
	Kind      string   `json:"kind"`
	Issued    string   `json:"issued,omitempty"`
	ReliesOn  []string `json:"relies-on,omitempty"`
	CopiedOn  string   `json:"copied-on,omitempty"`
	SHA256    string   `json:"copied-sha256,omitempty"`
	Consulted *bool    `json:"consulted,omitempty"`
}

// types gives the type and genre of each kind of source.
var types = map[schema.SourceKind]struct{ name, genre string }{
	schema.Catalogue:       {"pamphlet", "trade catalogue"},
	schema.PriceList:       {"pamphlet", "price list"},
	schema.Advertisement:   {"article-magazine", "advertisement"},
	schema.FactoryPaper:    {"manuscript", "factory paper"},
	schema.Patent:          {"patent", ""},
	schema.Article:         {"article-magazine", ""},
	schema.Book:            {"book", ""},
	schema.Web:             {"webpage", ""},
	schema.Letter:          {"personal_communication", "letter"},
	schema.Recollection:    {"interview", "recollection"},
	schema.ExaminedExample: {"document", "examined example"},
	schema.Recorded:        {"song", "recording"}, // CSL's type for any sound recording
	schema.Photograph:      {"graphic", "photograph"},
	schema.SaleListing:     {"document", "sale listing"},
}

// Of gives a source as an item.
func Of(s *schema.Source) Item {
	kind := types[schema.SourceKind(s.Kind.Value)]
	if kind.name == "" {
		kind.name = "document"
	}
	item := Item{
		ID: s.ID, Type: kind.name, Genre: kind.genre, Title: s.Name.Value, Issued: DateOf(s.Issued.Expr),
		Archive: s.Kept.Value, URL: s.Link.Value,
	}
	if s.By.Value != "" {
		item.Author = []Name{{s.By.Value}}
	}
	kept := Kept{Kind: s.Kind.Value, Issued: s.Issued.String()}
	for _, r := range s.ReliesOn {
		kept.ReliesOn = append(kept.ReliesOn, r.Value)
	}
	if s.Copied != nil {
		item.Accessed = DateOf(s.Copied.On.Expr)
		kept.CopiedOn, kept.SHA256 = s.Copied.On.String(), s.Copied.SHA256.Value
	}
	if !s.Consulted.Pos.IsZero() {
		kept.Consulted = &s.Consulted.Value
	}
	item.Custom = &Custom{kept}
	return item
}

// Write writes every source of a reference, by identifier, one at a time.
func Write(w io.Writer, ref *schema.Reference) error {
	out := bufio.NewWriter(w)
	before, after := "[\n  ", "[]\n"
	for _, s := range ref.Sources.All() {
		item, err := json.MarshalIndent(Of(s), "  ", "  ")
		if err != nil {
			return err
		}
		_, _ = out.WriteString(before)
		_, _ = out.Write(item)
		before, after = ",\n  ", "\n]\n"
	}
	_, _ = out.WriteString(after)
	return out.Flush()
}

// number reads a figure that JSON may hold as a number or as text.
func number(v any) (int, bool) {
	switch v := v.(type) {
	case json.Number:
		n, err := strconv.Atoi(v.String())
		return n, err == nil
	case string:
		n, err := strconv.Atoi(v)
		return n, err == nil
	}
	return 0, false
}
