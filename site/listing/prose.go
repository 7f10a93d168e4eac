package listing

import (
	"regexp"
	"strings"

	"github.com/alecthomas/chroma/v2"
)

// The marks of Markdown that a reader of the source looks for: headings,
// the signs of lists, and code of several lines.
var (
	headings = regexp.MustCompile(`^ {0,3}#{1,6}[ \t]`)
	openings = regexp.MustCompile(`^ {0,3}(?:[-*+]|[0-9]{1,9}[.)])[ \t]`)
	fences   = regexp.MustCompile("^ {0,3}(?:```|~~~)")
)

// prose takes what is left, line by line.
func (l *lister) prose() {
	fenced := false
	for l.at < len(l.source) {
		line := l.source[l.at:]
		if end := strings.IndexByte(line, '\n'); end >= 0 {
			line = line[:end+1]
		}
		end := l.at + len(line)
		sign := firstSign(line)
		switch {
		case (sign == '`' || sign == '~') && fences.MatchString(line):
			fenced = !fenced
			l.token(chroma.LiteralStringBacktick, end)
		case fenced:
			l.token(chroma.LiteralStringBacktick, end)
		case sign == '#' && headings.MatchString(line):
			l.token(chroma.GenericHeading, end)
		default:
			l.words(line, end)
		}
	}
}

// firstSign is the first byte of a line that is no space, or 0.
func firstSign(line string) byte {
	if words := strings.TrimLeft(line, " "); words != "" {
		return words[0]
	}
	return 0
}

// words takes one line of running text.
func (l *lister) words(line string, end int) {
	from := l.at
	if strings.IndexByte("-*+0123456789", firstSign(line)) >= 0 {
		l.token(chroma.Keyword, from+len(openings.FindString(line)))
	}
	for at := 0; at < len(line); {
		next := strings.IndexAny(line[at:], "`[")
		if next < 0 {
			break
		}
		at += next
		if line[at] == '`' {
			at = l.code(line, at, from)
		} else {
			at = l.link(line, at, from)
		}
	}
	l.token(chroma.Text, end)
}

// code takes code that begins with the mark at that place of a line, if it does,
// and says where to look further. from is where the line begins.
func (l *lister) code(line string, at, from int) int {
	length := strings.IndexByte(line[at+1:], '`')
	if length < 1 {
		return at + 1
	}
	past := at + length + 2
	l.token(chroma.Text, from+at)
	l.token(chroma.LiteralStringBacktick, from+past)
	return past
}

// link does that for a link's words in brackets and its address, with the
// exclamation mark of a picture.
func (l *lister) link(line string, at, from int) int {
	words := strings.IndexAny(line[at+1:], "][")
	if words < 0 || line[at+1+words] == '[' {
		return at + 1
	}
	opens := at + words + 2
	if opens >= len(line) || line[opens] != '(' {
		return at + 1
	}
	length := strings.IndexAny(line[opens+1:], "() \t\r\f\n")
	if length < 0 || line[opens+1+length] != ')' {
		return at + 1
	}
	start := at
	if at > 0 && line[at-1] == '!' {
		start--
	}
	past := opens + length + 2
	l.token(chroma.Text, from+start)
	l.token(chroma.NameTag, from+opens)
	l.token(chroma.NameAttribute, from+past)
	return past
}
