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
	within   = regexp.MustCompile("`[^`\n]+`" + `|(!?\[[^\]\[\n]*\])(\([^()\s]*\))`)
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
		switch {
		case fences.MatchString(line):
			fenced = !fenced
			l.token(chroma.LiteralStringBacktick, end)
		case fenced:
			l.token(chroma.LiteralStringBacktick, end)
		case headings.MatchString(line):
			l.token(chroma.GenericHeading, end)
		default:
			l.words(line, end)
		}
	}
}

// words takes one line of running text.
func (l *lister) words(line string, end int) {
	from := l.at
	if sign := openings.FindString(line); sign != "" {
		l.token(chroma.Keyword, from+len(sign))
	}
	for _, at := range within.FindAllStringSubmatchIndex(line, -1) {
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
