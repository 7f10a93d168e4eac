package schema

import (
	"bytes"
	"strconv"
	"strings"
)

// bracket is one bracket or brace that is open.
type bracket struct {
	mark   byte
	at     int
	colons int // colons since the last comma
}

// bracketScan walks what stands between brackets.
type bracketScan struct {
	*yamlScan
	open []bracket
	// ended says that an entry has just ended, so that a comma, a colon or a
	// closing bracket must follow.
	ended bool
	entry int // where the entry that has just ended begins
	quote bool
}

// brackets reads a list or mapping in brackets, over several lines if need be.
func (s *yamlScan) brackets() {
	b := &bracketScan{yamlScan: s}
	outside := 0
	if n := len(s.levels); n > 0 {
		outside = s.levels[n-1].column
	}
	for s.fault == nil {
		if b.space(outside); s.fault != nil {
			return
		}
		if b.step(); len(b.open) == 0 && s.fault == nil {
			b.after()
			return
		}
	}
}

// space passes blanks, comments and line ends. A line that begins like a key
// outside the brackets shows that they were not closed.
func (b *bracketScan) space(outside int) {
	for b.at < len(b.text) {
		switch c := b.peek(0); {
		case c == ' ' || c == '\t' || c == '\r':
			b.at++
		case c == '#' && b.at > 0 && isBlank(b.peek(-1)):
			b.at = b.lineEnd()
		case c == '\n':
			b.at++
			start := b.at
			b.skipBlanks()
			_, colon := b.plainKey()
			outer := b.at-start <= outside && !b.blankOrComment()
			if outer && colon >= 0 || b.peek(0) == '-' && isBlank(b.peek(1)) {
				b.unclosed()
				return
			}
		default:
			return
		}
	}
	b.unclosed()
}

func (b *bracketScan) unclosed() {
	last := b.open[len(b.open)-1]
	b.fail(last.at, "the bracket "+strconv.Quote(string(last.mark))+" is never closed", "Put "+strconv.Quote(string(closing(last.mark)))+" where the list ends, or quotes around the text if the bracket belongs to it.")
}

func closing(open byte) byte {
	if open == '{' {
		return '}'
	}
	return ']'
}

// step reads one token.
func (b *bracketScan) step() {
	c := b.peek(0)
	switch {
	case c == '[' || c == '{':
		if b.begin(false) {
			b.open = append(b.open, bracket{mark: c, at: b.at})
			b.ended = false
			b.at++
		}
	case c == ']' || c == '}':
		b.end(c)
	case c == ',':
		b.comma()
	case c == ':' && (b.ended || isBlank(b.peek(1))):
		b.colon()
	case c == '"' || c == '\'':
		b.quotedEntry()
	case !b.ended && strings.IndexByte("@`%*&!|>#:?", c) >= 0:
		b.cannotBegin("unquoted text", quoteRemedy(b.entryText()))
	case c == '-' && isBlank(b.peek(1)):
		b.fail(b.at, "a hyphen begins an entry within brackets", "Take the hyphen away: within brackets a comma parts the entries.")
	default:
		b.plainEntry()
	}
}

// entryText is what stands here, to the next comma, bracket or line end.
func (b *bracketScan) entryText() string {
	i := b.at
	for i < len(b.text) && b.text[i] != ',' && b.text[i] != ']' && b.text[i] != '}' && b.text[i] != '\n' {
		i++
	}
	return string(b.text[b.at:i])
}

// begin says whether an entry may begin here, and reports where a comma is missing.
func (b *bracketScan) begin(quoted bool) bool {
	if !b.ended {
		b.entry, b.quote = b.at, quoted
		return true
	}
	if b.quote && b.spansLines(b.entry, b.at) {
		b.unclosedQuote(b.entry)
		return false
	}
	help := "Put a comma between the two entries, or quotes around them if they are one text."
	if b.quote {
		help = "Put a comma after the closing quote; if the quote belongs to the text, put the whole text in single quotes."
	}
	b.fail(b.at, "a comma is missing before this", help)
	return false
}

func (b *bracketScan) end(c byte) {
	last := b.open[len(b.open)-1]
	if closing(last.mark) != c {
		b.fail(b.at, strconv.Quote(string(c))+" closes what "+strconv.Quote(string(last.mark))+" opened", "Put "+strconv.Quote(string(closing(last.mark)))+" here, or close the inner bracket first.")
		return
	}
	b.open = b.open[:len(b.open)-1]
	b.ended, b.entry, b.quote = true, last.at, false
	b.at++
}

func (b *bracketScan) comma() {
	top := &b.open[len(b.open)-1]
	if !b.ended && top.colons == 0 {
		b.fail(b.at, "nothing stands before this comma", "Delete the comma, or write the entry that belongs before it.")
		return
	}
	top.colons, b.ended = 0, false
	b.at++
}

func (b *bracketScan) colon() {
	top := &b.open[len(b.open)-1]
	if top.colons++; top.colons > 1 || !b.ended {
		b.fail(b.at, "the text has a second colon", "Put the text that holds the colon in quotes.")
		return
	}
	b.ended = false
	b.at++
}

func (b *bracketScan) quotedEntry() {
	if !b.begin(true) {
		return
	}
	end, ok := b.quoted()
	if !ok {
		return
	}
	b.at, b.ended = end, true
}

// plainEntry reads unquoted text within brackets.
func (b *bracketScan) plainEntry() {
	if !b.begin(false) {
		return
	}
	for b.at < len(b.text) {
		c, next := b.peek(0), b.peek(1)
		switch {
		case c == ',' || c == '[' || c == ']' || c == '{' || c == '}' || c == '\n':
		case c == ':' && (isBlank(next) || next == ',' || next == ']' || next == '}'):
		case c == '#' && isBlank(b.peek(-1)):
		default:
			if c == '?' && b.at > b.entry {
				b.questions = append(b.questions, b.at)
			}
			b.at++
			continue
		}
		break
	}
	b.ended = true
	if b.peek(0) == '\n' {
		b.foldedEntry()
	}
}

// foldedEntry goes on with unquoted text on the next line.
func (b *bracketScan) foldedEntry() {
	next := b.at
	for next < len(b.text) && isBlank(b.text[next]) {
		next++
	}
	if next >= len(b.text) {
		return
	}
	switch b.text[next] {
	case ',', '[', ']', '{', '}', '#', ':', '"', '\'', '-':
		return
	}
	b.ended = lineStart(b.text, next) == next
}

func lineStart(text []byte, at int) int { return bytes.LastIndexByte(text[:at], '\n') + 1 }

// after reads what follows the last closing bracket on its line.
func (b *bracketScan) after() {
	b.skipBlanks()
	switch rest := b.rest(); {
	case b.blankOrComment():
		b.nextLine()
	case rest[0] == ']' || rest[0] == '}':
		b.fail(b.at, "there is one "+strconv.Quote(rest[:1])+" too many", "Delete it, or open a bracket where the list begins.")
	case rest[0] == ':':
		b.fail(b.at, "a colon follows the closing bracket", "Delete the bracket if the key goes on after it, or put the whole key in quotes.")
	default:
		b.fail(b.at, "text follows the closing bracket", "Delete it, or put the whole text in quotes if the brackets belong to it.")
	}
}
