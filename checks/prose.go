package checks

import (
	"bytes"
	"regexp"
	"strconv"
	"strings"
	"unicode/utf8"

	"github.com/yuin/goldmark"
	"github.com/yuin/goldmark/ast"
	"github.com/yuin/goldmark/extension"
	"github.com/yuin/goldmark/parser"
	"github.com/yuin/goldmark/text"
	"github.com/yuin/goldmark/util"

	"yearmark/schema"
)

// prose is the text of one record: its links, pictures and bare years.
type prose struct {
	record schema.Record
	links  []mention // where the text leads
	images []mention // pictures shown in the text
	tags   []mention // of HTML, the first of each stretch
	years  []mention // years of four figures that stand in no link
}

// mention is one address or year in prose.
type mention struct {
	pos   schema.Pos
	width int
	text  string // the address as written, or the year
	alt   string // of an image, the words for people who cannot see it
	year  int
}

// markdown reads prose as the site does: CommonMark with tables.
var markdown = goldmark.New(goldmark.WithExtensions(extension.Table)).Parser()

// readProse parses the prose of every record, a share of the records to
// each processor.
func (s *shared) readProse() []prose {
	records := s.Ref.Records()
	all := make([]prose, len(records))
	s.share(len(records), func(i int) { all[i] = readBody(records[i]) })
	return all
}

func readBody(r schema.Record) prose {
	e := prose{record: r}
	body := r.Header().Body
	if !strings.ContainsAny(body.Text, "[<0123456789") {
		return e // a link or picture has a bracket, a year has figures
	}
	if line, _, _ := schema.Overload(body.Text); line > 0 {
		return e // the reader has said so
	}
	source := []byte(body.Text)
	doc := markdown.Parse(text.NewReader(source), parser.WithContext(parser.NewContext()))
	reader := proseReader{prose: &e, source: source, places: newPlaces(source, body.Pos)}
	_ = ast.Walk(doc, reader.visit)
	return e
}

type proseReader struct {
	*prose
	source []byte
	places *places
}

func (r *proseReader) visit(n ast.Node, entering bool) (ast.WalkStatus, error) {
	if !entering {
		return ast.WalkContinue, nil
	}
	switch n := n.(type) {
	case *ast.Link:
		r.links = append(r.links, r.mention(n, string(n.Destination)))
		return r.within(n)
	case *ast.AutoLink:
		m := r.mention(n, string(n.Label(r.source)))
		if n.AutoLinkType == ast.AutoLinkEmail {
			m.text = "mailto:" + m.text
		}
		r.links = append(r.links, m)
		return ast.WalkSkipChildren, nil
	case *ast.Image:
		m := r.mention(n, string(n.Destination))
		m.alt = strings.TrimSpace(words(n, r.source))
		r.images = append(r.images, m)
		return ast.WalkSkipChildren, nil
	case *ast.HTMLBlock:
		r.findTag(n.Lines())
		return ast.WalkSkipChildren, nil
	case *ast.RawHTML:
		r.findTag(n.Segments)
		return ast.WalkSkipChildren, nil
	case *ast.CodeSpan, *ast.CodeBlock, *ast.FencedCodeBlock:
		return ast.WalkSkipChildren, nil
	case *ast.Text:
		r.findYears(n)
	}
	return ast.WalkContinue, nil
}

// within looks for pictures inside a link; its years need no claim.
func (r *proseReader) within(link ast.Node) (ast.WalkStatus, error) {
	_ = ast.Walk(link, func(n ast.Node, entering bool) (ast.WalkStatus, error) {
		if image, ok := n.(*ast.Image); ok && entering {
			return r.visit(image, true)
		}
		return ast.WalkContinue, nil
	})
	return ast.WalkSkipChildren, nil
}

// mention places an address on the line of its node.
func (r *proseReader) mention(n ast.Node, address string) mention {
	start := max(n.Pos(), 0)
	m := mention{pos: r.places.at(start), text: plainAddress(address), width: utf8.RuneCountInString(address)}
	rest := r.source[min(start, len(r.source)):min(start+len(address)+2000, len(r.source))]
	if i := bytes.Index(rest, []byte(address)); i >= 0 && address != "" {
		m.pos = r.places.at(start + i)
	}
	return m
}

// plainAddress takes Markdown's escapes and HTML's character names out of an
// address, as a browser would read it.
func plainAddress(address string) string {
	plain := util.UnescapePunctuations([]byte(address))
	return string(util.ResolveEntityNames(util.ResolveNumericReferences(plain)))
}

// fourFigures is a year from 1850 to 2030 that stands alone: no letter, figure
// or sign of a model number, sum or address touches it.
var fourFigures = regexp.MustCompile(`\b(1[89][0-9]{2}|20[0-3][0-9])\b`)

func (r *proseReader) findYears(n *ast.Text) {
	value := n.Segment.Value(r.source)
	for _, at := range fourFigures.FindAllIndex(value, -1) {
		start, end := n.Segment.Start+at[0], n.Segment.Start+at[1]
		if !standsAlone(r.source, start, end) {
			continue
		}
		word := string(r.source[start:end])
		year, _ := strconv.Atoi(word)
		if year < 1850 || year > 2030 {
			continue
		}
		r.years = append(r.years, mention{pos: r.places.at(start), width: len(word), text: word, year: year})
	}
}

// standsAlone says whether the figures are a word of their own rather than
// part of a number ("1,965", "1965.5"), a model number ("H-1965"), a sum
// ("£1965") or an address ("/1965").
func standsAlone(source []byte, start, end int) bool {
	before, size := utf8.DecodeLastRune(source[:start])
	if strings.ContainsRune("£$€#/_=&.,", before) && size > 0 && !(strings.ContainsRune(".,", before) && !figureAt(source, start-size-1)) {
		return false
	}
	if before == '-' && letterAt(source, start-2) && source[start-2] < 'a' { // H-1965, but mid-1965
		return false
	}
	after, size := utf8.DecodeRune(source[end:])
	switch {
	case strings.ContainsRune(".,", after) && size > 0 && figureAt(source, end+1):
		return false
	case after == '-' && letterAt(source, end+1) && !wordAt(source, end+1):
		return false
	}
	return true
}

func figureAt(source []byte, i int) bool {
	return i >= 0 && i < len(source) && source[i] >= '0' && source[i] <= '9'
}

func letterAt(source []byte, i int) bool {
	return i >= 0 && i < len(source) && (source[i]|0x20) >= 'a' && (source[i]|0x20) <= 'z'
}

// wordAt says whether three letters or more begin at i, as in "1965-style".
func wordAt(source []byte, i int) bool {
	return letterAt(source, i) && letterAt(source, i+1) && letterAt(source, i+2)
}

// words gives the text of a node without mark-up.
func words(n ast.Node, source []byte) string {
	var b strings.Builder
	_ = ast.Walk(n, func(c ast.Node, entering bool) (ast.WalkStatus, error) {
		if t, ok := c.(*ast.Text); ok && entering {
			b.Write(t.Segment.Value(source))
		}
		return ast.WalkContinue, nil
	})
	return b.String()
}
