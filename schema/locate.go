package schema

import (
	"bytes"
	"fmt"
	"unicode"
	"unicode/utf8"

	"go.yaml.in/yaml/v3"
)

// LocatedKind is what a located value is.
type LocatedKind uint8

// The kinds of located value.
const (
	LocatedText LocatedKind = iota // a word, figure or sentence
	LocatedList
	LocatedKeys // keys and values
)

// Located is a value in a record's front matter and the bytes of the file that
// it takes up, for those who change records and leave the rest as it is.
type Located struct {
	Kind       LocatedKind
	Start, End int  // from the first byte of the file; End is past the last byte of the value
	Flow       bool // a list in brackets, or keys in braces
	// Style is the quote in which a text is written, '|' or '>' for a block of
	// lines, and 0 for bare words. Text is what it reads as.
	Style byte
	Text  string
	Items []*Located   // of a list
	Keys  []LocatedKey // in the order written
}

// LocatedKey is one key and its value. A key without a value has an empty text.
type LocatedKey struct {
	Name       string
	Start, End int // of the key alone
	Value      *Located
}

// Key finds the first key of that name, or answers nil.
func (l *Located) Key(name string) *Located {
	for i := range l.Keys {
		if l.Keys[i].Name == name {
			return l.Keys[i].Value
		}
	}
	return nil
}

// Locate finds every value in the front matter of a record. The error is a
// Problems where the file cannot be read at all. Whether keys and values are
// those of a record it does not ask.
func Locate(file string, source []byte) (*Located, error) {
	d := &decoder{file: file}
	text, ok := d.readable(source)
	if !ok {
		return nil, d.problems
	}
	p, ok := d.cutFront(text)
	if !ok {
		return nil, d.problems
	}
	d.shift = p.frontLine
	top := d.parse(d.oddCharacters(p.front, p.frontLine+1, true))
	if top == nil || len(d.problems) > 0 {
		return nil, d.problems.sorted()
	}
	return locate(file, source, p.front, top)
}

// locate finds the values of a front matter that is part of source and reads as top.
func locate(file string, source, front []byte, top *yaml.Node) (*Located, error) {
	l := &locator{file: file, front: front, base: frontMatter(source)[0], lines: []int{0}}
	return l.whole(top)
}

// locator measures nodes against the bytes of the front matter.
type locator struct {
	file  string
	front []byte
	base  int   // bytes of the file before the front matter
	lines []int // where each line of the front matter begins
	last  struct{ line, column, at int }
}

func (l *locator) whole(top *yaml.Node) (*Located, error) {
	for i, c := range l.front {
		if c == '\n' {
			l.lines = append(l.lines, i+1)
		}
	}
	located, err := l.node(top, 0)
	if err != nil {
		return nil, err
	}
	located.shift(l.base)
	return located, nil
}

// shift moves every place by so many bytes.
func (l *Located) shift(by int) {
	l.Start, l.End = l.Start+by, l.End+by
	for _, item := range l.Items {
		item.shift(by)
	}
	for i := range l.Keys {
		k := &l.Keys[i]
		k.Start, k.End = k.Start+by, k.End+by
		k.Value.shift(by)
	}
}

// offset is the byte at which a node begins, or an error where the file has no such place.
func (l *locator) offset(n *yaml.Node) (int, error) {
	if n.Line >= 1 && n.Line <= len(l.lines) {
		// Values follow each other: going on from the last one keeps a long line cheap.
		start, columns := l.lines[n.Line-1], n.Column-1
		if l.last.line == n.Line && l.last.column <= columns {
			start, columns = l.last.at, columns-l.last.column
		}
		if at := runeOffset(l.front[start:], columns); at >= 0 {
			l.last.line, l.last.column, l.last.at = n.Line, n.Column-1, start+at
			return start + at, nil
		}
	}
	return 0, l.lost(n)
}

func (l *locator) lost(n *yaml.Node) error {
	return fmt.Errorf("%s:%d: a value cannot be told from its surroundings", l.file, n.Line+1)
}

// node locates a value that stands within something indented by so many characters.
func (l *locator) node(n *yaml.Node, indent int) (*Located, error) {
	start, err := l.offset(n)
	if err != nil {
		return nil, err
	}
	located := &Located{Start: start, End: start, Flow: n.Style&yaml.FlowStyle != 0}
	switch n.Kind {
	case yaml.MappingNode:
		located.Kind = LocatedKeys
		err = l.keys(n, located)
	case yaml.SequenceNode:
		located.Kind = LocatedList
		err = l.items(n, located)
	default:
		located.Flow = false
		err = l.text(n, located, indent)
	}
	if err == nil && located.Flow {
		err = l.close(n, located)
	}
	return located, err
}

func (l *locator) items(n *yaml.Node, to *Located) error {
	for _, child := range n.Content {
		item, err := l.node(child, n.Column-1)
		if err != nil {
			return err
		}
		to.Items = append(to.Items, item)
		to.End = max(to.End, item.End)
	}
	return nil
}

func (l *locator) keys(n *yaml.Node, to *Located) error {
	for i := 0; i+1 < len(n.Content); i += 2 {
		name, err := l.node(n.Content[i], n.Column-1)
		if err != nil {
			return err
		}
		value, err := l.node(n.Content[i+1], n.Column-1)
		if err != nil {
			return err
		}
		to.Keys = append(to.Keys, LocatedKey{Name: n.Content[i].Value, Start: name.Start, End: name.End, Value: value})
		to.End = max(to.End, name.End, value.End)
	}
	return nil
}

// close finds the bracket or brace that ends a value, past its last member.
func (l *locator) close(n *yaml.Node, to *Located) error {
	open, shut := byte('['), byte(']')
	if to.Kind == LocatedKeys {
		open, shut = '{', '}'
	}
	if to.Start >= len(l.front) || l.front[to.Start] != open {
		return l.lost(n)
	}
	for at := max(to.End, to.Start+1); at < len(l.front); at++ {
		switch c := l.front[at]; {
		case c == shut:
			to.End = at + 1
			return nil
		case c == '#':
			if end := bytes.IndexByte(l.front[at:], '\n'); end >= 0 {
				at += end
			}
		case c != ',' && c != ':' && c != ' ' && c != '\t' && c != '\r' && c != '\n':
			return l.lost(n)
		}
	}
	return l.lost(n)
}

func (l *locator) text(n *yaml.Node, to *Located, indent int) error {
	to.Text = n.Value
	rest := l.front[to.Start:]
	length := -1
	switch {
	case isNull(n):
		length = 0
	case n.Style&yaml.DoubleQuotedStyle != 0:
		to.Style, length = '"', quotedLength(rest, '"')
	case n.Style&yaml.SingleQuotedStyle != 0:
		to.Style, length = '\'', quotedLength(rest, '\'')
	case n.Style&(yaml.LiteralStyle|yaml.FoldedStyle) != 0 && len(rest) > 0:
		to.Style, length = rest[0], blockLength(rest, indent)
	default:
		length = bareLength(rest, n.Value)
	}
	if length < 0 {
		return l.lost(n)
	}
	to.End = to.Start + length
	return nil
}

// quotedLength is the length of a quoted text, quotes counted, or -1.
func quotedLength(s []byte, quote byte) int {
	if len(s) == 0 || s[0] != quote {
		return -1
	}
	for i := 1; i < len(s); i++ {
		switch {
		case s[i] == '\\' && quote == '"':
			i++
		case s[i] == quote && quote == '\'' && i+1 < len(s) && s[i+1] == quote:
			i++
		case s[i] == quote:
			return i + 1
		}
	}
	return -1
}

// blockLength is the length of a block of lines after | or >, up to the end of
// its last line that is not blank. Its lines are indented deeper than what it
// stands in.
func blockLength(s []byte, indent int) int {
	if s[0] != '|' && s[0] != '>' {
		return -1
	}
	header, _, _ := cutLine(s)
	end, at := len(bytes.TrimRight(header, " \t\r")), len(header)+1
	for at < len(s) {
		line, _, _ := cutLine(s[at:])
		words := bytes.TrimLeft(line, " ")
		if len(bytes.TrimSpace(words)) > 0 {
			if len(line)-len(words) <= indent {
				break
			}
			end = at + len(bytes.TrimRight(line, "\r"))
		}
		at += len(line) + 1
	}
	return end
}

// bareLength is the length of unquoted text that reads as value: the same
// characters, with other white space between them where lines were folded.
func bareLength(s []byte, value string) int {
	if n := len(value); n > 0 && n <= len(s) && string(s[:n]) == value && value[n-1] > ' ' && value[n-1] < utf8.RuneSelf {
		return n
	}
	at := 0
	for _, want := range value {
		if unicode.IsSpace(want) {
			continue
		}
		for at < len(s) && bytes.IndexByte([]byte(" \t\r\n"), s[at]) >= 0 {
			at++
		}
		got, size := utf8.DecodeRune(s[at:])
		if got != want || size == 0 {
			return -1
		}
		at += size
	}
	return at
}
