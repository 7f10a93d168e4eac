// Package listing shows a record's file as it was written, highlighted, each
// line numbered and with an address of its own (L1, L2 …), so that a claim can
// lead to the line that states it. What is private is dots.
//
// The marks are chroma's classes, within an element of class chroma: nt for
// keys, s for text, m for figures and years, c for remarks, p for signs; prose
// has those of its Markdown. Colours are the site's affair.
package listing

import (
	"bytes"
	"fmt"
	"html/template"
	"regexp"
	"strings"

	"github.com/alecthomas/chroma/v2"
	"github.com/alecthomas/chroma/v2/formatters/html"
	"github.com/alecthomas/chroma/v2/lexers"
	"github.com/alecthomas/chroma/v2/styles"

	"yearmark/schema"
)

// LinePrefix begins the identifier of a line: L12 is the twelfth. It is a
// capital, which the identifier of no claim begins with.
const LinePrefix = "L"

var formatter = html.New(html.WithClasses(true), html.WithLineNumbers(true), html.WithLinkableLineNumbers(true, LinePrefix), html.TabWidth(4))

// HTML gives a record's file. The error is for a file whose keys cannot be read.
func HTML(r schema.Record) (template.HTML, error) {
	head := r.Header()
	source, err := schema.MaskPrivate(head.File, head.Source)
	if err != nil {
		return "", err
	}
	source = bytes.ReplaceAll(bytes.TrimPrefix(source, []byte("\xef\xbb\xbf")), []byte("\r\n"), []byte("\n"))
	top, err := schema.Locate(head.File, source)
	if err != nil {
		return "", err
	}
	l := &lister{source: string(source)}
	l.value(top)
	body := lineOffset(l.source, head.Body.Pos.Line)
	l.between(body)
	prose, err := markdown(l.source[body:])
	if err != nil {
		return "", err
	}
	var out strings.Builder
	if err := formatter.Format(&out, styles.Fallback, chroma.Literator(append(l.tokens, prose...)...)); err != nil {
		return "", fmt.Errorf("%s cannot be shown: %w", head.File, err)
	}
	return template.HTML(out.String()), nil
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

func markdown(text string) ([]chroma.Token, error) {
	if text == "" {
		return nil, nil
	}
	tokens, err := lexers.Get("markdown").Tokenise(&chroma.TokeniseOptions{State: "root"}, text)
	if err != nil {
		return nil, err
	}
	return tokens.Tokens(), nil
}

// lister goes through a file and says what each piece of it is.
type lister struct {
	source string
	at     int
	tokens []chroma.Token
}

func (l *lister) token(kind chroma.TokenType, end int) {
	if end > l.at {
		l.tokens = append(l.tokens, chroma.Token{Type: kind, Value: l.source[l.at:end]})
		l.at = end
	}
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

func (l *lister) value(v *schema.Located) {
	for _, item := range v.Items {
		l.value(item)
	}
	for _, k := range v.Keys {
		l.between(k.Start)
		l.token(chroma.NameTag, k.End)
		l.value(k.Value)
	}
	if v.Kind == schema.LocatedText && v.End > v.Start {
		l.between(v.Start)
		l.token(kindOf(v), v.End)
	}
}

var figures = regexp.MustCompile(`^[0-9X¼½¾⅛⅜⅝⅞ ./~?%+-]+( ?(in|lb|gr|mm|cm|kg|g))?$`)

func kindOf(v *schema.Located) chroma.TokenType {
	if figures.MatchString(v.Text) {
		return chroma.LiteralNumber
	}
	return chroma.LiteralString
}
