// Package listing shows a record's file as it was written, highlighted, each
// line with an address of its own (L1, L2 …), so that a claim can lead to the
// line that states it. What is private is dots.
//
// A line is a span within an element of class chroma; style sheets number the
// spans. The marks are chroma's classes: nt for keys, s for text, m for figures
// and years, c for remarks; prose has those of its Markdown. Signs and plain
// words have none. Colours are the site's affair.
package listing

import (
	"bytes"
	"regexp"
	"strings"

	"github.com/alecthomas/chroma/v2"

	"yearmark/schema"
)

// LinePrefix begins the identifier of a line: L12 is the twelfth. It is a
// capital, which the identifier of no claim begins with.
const LinePrefix = "L"

// Line is one line of a file, its end included.
type Line []Piece

// Piece is part of a line with chroma's class for what it is, empty for signs
// and plain words.
type Piece struct{ Class, Text string }

// Of gives a record's file, what is private aside. The error is for a file
// whose keys cannot be read.
func Of(r schema.Record) ([]Line, error) {
	head := r.Header()
	public, err := head.PublicFile()
	if text := plain(head.Source); len(text) < len(head.Source) {
		public, err = schema.PublicFileOf(head.File, text)
	}
	if err != nil {
		return nil, err
	}
	l := &lister{source: string(public.Text)}
	for _, w := range public.Words {
		l.word(w)
	}
	l.between(lineOffset(l.source, head.Body.Pos.Line()))
	l.prose()
	return l.lines, nil
}

// plain gives a file without a byte-order mark, its lines ended alike.
func plain(source []byte) []byte {
	source = bytes.TrimPrefix(source, []byte("\xef\xbb\xbf"))
	if bytes.IndexByte(source, '\r') < 0 {
		return source
	}
	return bytes.ReplaceAll(source, []byte("\r\n"), []byte("\n"))
}

// classOf is chroma's short name for a kind of token, or for the wider kind
// that it belongs to; empty for what is left plain.
func classOf(t chroma.TokenType) string {
	for t > 0 && t != chroma.Text && t != chroma.Punctuation {
		if class, ok := chroma.StandardTypes[t]; ok {
			return class
		}
		t = t.Parent()
	}
	return ""
}

// lineOffset is where a line begins, or the end.
func lineOffset(source string, line int) int {
	at := 0
	for ; line > 1; line-- {
		next := strings.IndexByte(source[at:], '\n')
		if next < 0 {
			return len(source)
		}
		at += next + 1
	}
	return at
}

// lister goes through a file and takes each piece of it with what it is.
type lister struct {
	source string
	at     int
	lines  []Line
	within bool // the last line has not ended
}

// token takes what stands before end, line by line.
func (l *lister) token(kind chroma.TokenType, end int) {
	if end <= l.at {
		return
	}
	class := classOf(kind)
	for text := range strings.Lines(l.source[l.at:end]) {
		if !l.within {
			l.lines = append(l.lines, nil)
		}
		last := &l.lines[len(l.lines)-1]
		*last = append(*last, Piece{class, text})
		l.within = !strings.HasSuffix(text, "\n")
	}
	l.at = end
}

// between takes what stands between values: remarks, brackets, hyphens, blanks.
func (l *lister) between(end int) {
	for l.at < end {
		rest := l.source[l.at:end]
		remark := strings.IndexByte(rest, '#')
		if remark < 0 {
			l.token(chroma.Punctuation, end)
			return
		}
		l.token(chroma.Punctuation, l.at+remark)
		line := strings.IndexByte(l.source[l.at:end], '\n')
		if line < 0 {
			line = end - l.at
		}
		l.token(chroma.Comment, l.at+line)
	}
}

func (l *lister) word(w schema.Word) {
	l.between(int(w.Start))
	text := l.source[w.Start:w.End]
	if text[0] == '"' || text[0] == '\'' {
		text = text[1 : len(text)-1]
	}
	kind := chroma.LiteralString
	switch {
	case w.Key:
		kind = chroma.NameTag
	case figures.MatchString(text):
		kind = chroma.LiteralNumber
	}
	l.token(kind, int(w.End))
}

var figures = regexp.MustCompile(`^[0-9X¼½¾⅛⅜⅝⅞ ./~?%+-]+( ?(in|lb|gr|mm|cm|kg|g))?$`)
