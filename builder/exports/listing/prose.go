package listing

import (
	"regexp"
	"strings"

	"github.com/alecthomas/chroma/v2"
)

// The marks of Markdown that a reader of the source looks for: headings,
// the signs of lists, code, and links with their addresses.
var (
	headings = regexp.MustCompile(`^ {0,3}#{1,6}[ \t]`)
	openings = regexp.MustCompile(`^ {0,3}(?:[-*+]|[0-9]{1,9}[.)])[ \t]`)
	fences   = regexp.MustCompile("^ {0,3}(?:```|~~~)")
	marked   = regexp.MustCompile("`[^`\n]+`" + `|(!?\[[^\]\[\n]*\])(\([^()\s]*\))`)
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
	if !strings.ContainsAny(line, "`[") {
		l.token(chroma.Text, end)
		return
	}
	for _, at := range marked.FindAllStringSubmatchIndex(line, -1) {
		if from+at[0] < l.at {
			continue
		}
		l.token(chroma.Text, from+at[0])
		if at[2] < 0 {
			l.token(chroma.LiteralStringBacktick, from+at[1])
			continue
		}
		l.token(chroma.NameTag, from+at[3])
		l.token(chroma.NameAttribute, from+at[1])
	}
	l.token(chroma.Text, end)
}
