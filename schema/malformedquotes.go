package schema

import (
	"bytes"
	"strconv"
	"strings"

	"yearmark/schema/english"
)

// quoted finds the end of the quoted text that begins here, the offset after
// its closing quote. Where there is none, or an escape is wrong, it fails.
func (s *yamlScan) quoted() (end int, ok bool) {
	open, mark := s.at, s.text[s.at]
	for i := open + 1; i < len(s.text); i++ {
		switch c := s.text[i]; {
		case c == '\\' && mark == '"':
			if i+1 < len(s.text) && !strings.ContainsRune("0abtnvfre \t\"/\\N_LPxuU\r\n", rune(s.text[i+1])) {
				s.fail(i, "\""+string(s.text[i:i+2])+"\" means nothing within double quotes", "Double the backslash, or use single quotes: within them a backslash is a backslash.")
				return 0, false
			}
			i++
		case c == mark && mark == '\'' && i+1 < len(s.text) && s.text[i+1] == mark:
			i++
		case c == mark:
			return i + 1, true
		}
	}
	s.unclosedQuote(open)
	return 0, false
}

func (s *yamlScan) unclosedQuote(open int) {
	mark := string(s.text[open])
	s.fail(open, "the quote is never closed", "Put another "+mark+" where the text ends.")
}

// spansLines says that a stretch of text holds the end of a line.
func (s *yamlScan) spansLines(from, to int) bool { return bytes.IndexByte(s.text[from:to], '\n') >= 0 }

// quotedValue reads a quoted value; nothing but a comment may follow it.
func (s *yamlScan) quotedValue() {
	open := s.at
	end, ok := s.quoted()
	if !ok {
		return
	}
	s.at = end
	s.skipBlanks()
	if s.blankOrComment() {
		s.nextLine()
		return
	}
	if s.spansLines(open, end) {
		s.unclosedQuote(open)
		return
	}
	s.afterQuote(open, end)
}

// afterQuote reports text that follows a closing quote on its line.
func (s *yamlScan) afterQuote(open, end int) {
	whole := s.rest()
	inner := string(s.text[open+1 : end-1])
	switch {
	case s.text[open] == '\'':
		s.fail(s.at, "text follows the closing quote", "If the quote before it is an apostrophe, write it twice (''), or put the whole in double quotes.")
	case s.peek(0) == ',':
		s.fail(s.at, "a comma follows the closing quote", "Put several entries in brackets, each in its own quotes: [\"…\", \"…\"].")
	default:
		s.fail(s.at, "text follows the closing quote", "Put the whole in one pair of quotes: '"+strings.ReplaceAll(english.Clip(strconv.Quote(inner)+" "+whole, 80), "'", "''")+"'")
	}
}
