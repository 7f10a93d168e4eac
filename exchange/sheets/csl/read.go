package csl

import (
	"bytes"
	"encoding/json"
	"fmt"
	"maps"
	"slices"
	"strings"

	"yearmark/schema"
)

// Source is what an item says of a source, by the keys of a source's record.
type Source struct {
	ID      string // as a file name: small letters, digits and hyphens
	Line    int    // where the item begins in its file
	Called  string // the item's own identifier
	Name    string
	Kind    string
	By      string
	Issued  string
	Kept    string
	Link    string
	Own     *Kept    // as another register of this kind wrote it; nil otherwise
	LeftOut []string // keys of the item that no key of a source takes
	Faults  []string // what is wrong with it, lower case, no full stop
}

// maxBytes bounds a file of items.
const maxBytes = 64 << 20

// Read reads items. The error says why the file as a whole cannot be read, and
// on which line.
func Read(data []byte) ([]Source, error) {
	if len(data) > maxBytes {
		return nil, fmt.Errorf("the file has %d MB, more than %d", len(data)>>20, maxBytes>>20)
	}
	data = bytes.TrimPrefix(data, []byte("\ufeff"))
	d := json.NewDecoder(bytes.NewReader(data))
	d.UseNumber()
	if t, err := d.Token(); err != nil || t != json.Delim('[') {
		return nil, fmt.Errorf("line 1: CSL-JSON begins with [ and lists items in braces")
	}
	var list []Source
	for d.More() {
		line := 1 + bytes.Count(data[:itemStart(data, int(d.InputOffset()))], []byte("\n"))
		var item map[string]any
		if err := d.Decode(&item); err != nil {
			return nil, fmt.Errorf("line %d: the item that begins here is not JSON: %w", line, err)
		}
		s := read(item)
		s.Line = line
		list = append(list, s)
	}
	if _, err := d.Token(); err != nil {
		return nil, fmt.Errorf("line %d: the list of items is not closed", 1+bytes.Count(data, []byte("\n")))
	}
	return list, nil
}

func itemStart(data []byte, at int) int {
	for at < len(data) && bytes.IndexByte([]byte(", \t\r\n"), data[at]) >= 0 {
		at++
	}
	return at
}

// reading takes keys out of an item, so that what is left is known.
type reading struct {
	item map[string]any
	used map[string]bool
}

func (r *reading) text(key string) string {
	r.used[key] = true
	switch v := r.item[key].(type) {
	case string:
		return strings.TrimSpace(v)
	case json.Number:
		return v.String()
	}
	return ""
}

func read(item map[string]any) Source {
	r := &reading{item, map[string]bool{"type": true, "custom": true, "categories": true, "citation-key": true, "genre": true}}
	s := Source{Called: r.text("id"), Own: own(item["custom"])}
	s.ID = schema.Slug(s.Called)
	if s.ID == "" {
		s.Faults = append(s.Faults, "the item has no id")
	}
	s.Name = r.title()
	if s.Name == "" {
		s.Faults = append(s.Faults, "the item has no title")
	}
	s.By = r.people()
	s.Kept = r.kept()
	s.Link = r.link()
	r.used["accessed"] = s.Own != nil
	s.kind(r.text("type"), r.text("genre"))
	issued, ok := readDate(item["issued"])
	if r.used["issued"] = ok; ok {
		s.Issued = issued
	}
	if s.Own != nil && s.Own.Issued != "" {
		s.Issued, r.used["issued"] = s.Own.Issued, true
	}
	for _, key := range slices.Sorted(maps.Keys(item)) {
		if !r.used[key] && item[key] != nil && item[key] != "" {
			s.LeftOut = append(s.LeftOut, key)
		}
	}
	return s
}

// own finds what another register of this kind wrote.
func own(custom any) *Kept {
	m, _ := custom.(map[string]any)
	data, err := json.Marshal(m["yearmark"])
	if m["yearmark"] == nil || err != nil {
		return nil
	}
	var k Kept
	if json.Unmarshal(data, &k) != nil || k.Kind == "" {
		return nil
	}
	return &k
}

// title joins the title and what it stands in.
func (r *reading) title() string {
	title, within := r.text("title"), r.text("container-title")
	if title != "" && within != "" {
		return "“" + title + "”, " + within
	}
	return title + within
}

// people joins the names of the authors, or of the publisher where there are none.
func (r *reading) people() string {
	list, _ := r.item["author"].([]any)
	r.used["author"] = true
	var names []string
	for _, v := range list {
		m, _ := v.(map[string]any)
		var words []string
		for _, key := range []string{"literal", "given", "dropping-particle", "non-dropping-particle", "family", "suffix"} {
			if w, ok := m[key].(string); ok && strings.TrimSpace(w) != "" {
				words = append(words, strings.TrimSpace(w))
			}
		}
		if len(words) > 0 {
			names = append(names, strings.Join(words, " "))
		}
	}
	if len(names) == 0 {
		return r.text("publisher")
	}
	if n := len(names); n > 1 {
		return strings.Join(names[:n-1], ", ") + " and " + names[n-1]
	}
	return names[0]
}

func (r *reading) kept() string {
	var words []string
	for _, key := range []string{"archive", "archive-place", "archive_collection", "archive_location", "call-number"} {
		if w := r.text(key); w != "" {
			words = append(words, w)
		}
	}
	return strings.Join(words, ", ")
}

func (r *reading) link() string {
	if url := r.text("URL"); url != "" {
		return url
	}
	if doi := r.text("DOI"); doi != "" {
		return "https://doi.org/" + doi
	}
	return ""
}

// kinds are the kinds of source that a type stands for by itself. A type that
// is not here says too little of how far its source is to be believed.
var kinds = map[string]schema.SourceKind{
	"pamphlet": schema.Catalogue, "patent": schema.Patent, "webpage": schema.Web, "post": schema.Web, "post-weblog": schema.Web,
	"article": schema.Article, "article-magazine": schema.Article, "article-newspaper": schema.Article, "article-journal": schema.Article,
	"periodical": schema.Article, "review": schema.Article, "review-book": schema.Article, "paper-conference": schema.Article,
	"book": schema.Book, "chapter": schema.Book, "entry": schema.Book, "entry-dictionary": schema.Book, "entry-encyclopedia": schema.Book,
	"report": schema.Book, "standard": schema.Book, "thesis": schema.Book,
	"personal_communication": schema.Letter, "interview": schema.Recollection, "speech": schema.Recollection,
	"song": schema.Recorded, "broadcast": schema.Recorded, "graphic": schema.Photograph,
}

// kind finds the kind of source: as written by another register, by the genre,
// by the type.
func (s *Source) kind(kind, genre string) {
	if s.Own != nil {
		s.Kind = s.Own.Kind
		return
	}
	name := strings.ReplaceAll(strings.ToLower(genre), " ", "-")
	for k, t := range types {
		if genre != "" && (name == string(k) || strings.EqualFold(genre, t.genre)) {
			s.Kind = string(k)
			return
		}
	}
	if k, ok := kinds[kind]; ok {
		s.Kind = string(k)
		return
	}
	s.Faults = append(s.Faults, fmt.Sprintf("the type %q does not tell what kind of source it is; give it as genre: catalogue, price-list, advertisement, factory-paper, letter …", kind))
}
