// Package words splits text into the terms that are searched for. The module
// site/assets/js/search/words.js splits text by the same rules; shared
// vectors in search/testdata prove it.
//
// A text passes these stages, each in its own file:
//
//	fold      letters lose case and accents, signs get one form       "Café" -> "cafe"
//	split     runs of letters and digits become words and figures
//	codes     model numbers and marks get one spelling                 "H-24", "H24", "h 24" -> "h24"
//	measures  figures and units get one spelling                       `7 1/4 in`, `7¼"` -> "7.25", "7.25in"
//	stem      words of grammar fall out, endings come off              "stabilisers" -> "stabilis"
package words

// Token is one term of a text.
type Token struct {
	Term string // what is searched for
	Word string // the folded word or code before its ending came off; empty for figures and extras
	// Start and End bound the token in the text, in bytes.
	Start, End int
	// Pos counts the words of the text from 1, those that fell out included;
	// every end of line counts once more, so that no phrase runs across it.
	Pos  int
	Kind Kind
}

// Kind says what a token is. The last three are extras: second ways to find
// what stands at their Pos already.
type Kind uint8

// The kinds of token.
const (
	Word    Kind = iota // a word
	Code                // a model number or mark: h24
	Figure              // a number: 7.25
	Measure             // extra: a number and its unit: 7.25in
	Part                // extra: a part of a code: the 24 of H-24
	Joined              // extra: a compound without its hyphens: takedown
)

// Extra says whether the token is a second way to find another.
func (k Kind) Extra() bool { return k >= Measure }

// LongestWord is the number of letters beyond which a run of letters is no
// word and is left out.
const LongestWord = 48

// Split gives the tokens of a text in order of place. It never fails: what is
// neither letter nor figure separates.
func Split(text string) []Token {
	var s Splitter
	return s.Split(nil, text)
}

// Splitter splits many texts, keeping its buffers and, in Lexicon, the words met.
// The zero Splitter is ready. It must not be used by two goroutines at once.
type Splitter struct {
	Lexicon *Lexicon // where words and their terms are kept; may be nil
	cells   []cell
	buf     []byte
	out     []Token
	pos     int
	// figure is the index in out of the latest figure that had no unit, and
	// figureEnd the cell behind it: a range's unit holds for both ends.
	figure, figureEnd int
}

// Split appends the tokens of the text to dst.
func (s *Splitter) Split(dst []Token, text string) []Token {
	s.cells = fold(s.cells[:0], text)
	s.out, s.pos, s.figure = dst, 0, -1
	for at := 0; at < len(s.cells); {
		switch c := s.cells[at]; {
		case isLetter(c.r):
			at = s.letters(at)
		case isDigit(c.r):
			at = s.digits(at)
		default:
			if c.r == '\n' {
				s.pos++
			}
			at++
		}
	}
	out := s.out
	s.out = nil
	return out
}

// letters reads a word, a compound or a code that begins at a letter, and
// gives the place behind it.
func (s *Splitter) letters(at int) int {
	end := s.letterRun(at)
	if to := s.codeEnd(at, end); to > 0 {
		s.code(at, end, to)
		return to
	}
	if s.runeAt(end) != '-' || !isLetter(s.runeAt(end+1)) {
		s.word(at, end)
		return end
	}
	return s.compound(at, end)
}

// compound emits the parts of words joined by hyphens, and the whole without them.
func (s *Splitter) compound(at, end int) int {
	from, first, firstPos := at, len(s.out), s.pos+1
	s.word(at, end)
	for s.runeAt(end) == '-' && isLetter(s.runeAt(end+1)) {
		next := s.letterRun(end + 1)
		if s.codeEnd(end+1, next) > 0 {
			break
		}
		at, end = end+1, next
		s.word(at, end)
	}
	if at == from {
		return end
	}
	joined := s.text(from, end)
	if len(joined) > LongestWord*2 {
		return end
	}
	term := s.entry(joined).term
	s.out = append(s.out, Token{})
	copy(s.out[first+1:], s.out[first:])
	s.out[first] = Token{Term: term, Start: s.cells[from].start, End: s.cells[end-1].end, Pos: firstPos, Kind: Joined}
	return end
}

// word emits the word of the cells from at to end, unless it is one of grammar.
func (s *Splitter) word(at, end int) {
	s.pos++
	if end-at > LongestWord {
		return
	}
	if e := s.entry(s.text(at, possessive(s.cells, at, end))); !e.stop {
		s.emit(e, Word, at, end)
	}
}

// letterRun gives the place behind the letters that begin at at; an
// apostrophe between two letters belongs to them.
func (s *Splitter) letterRun(at int) int {
	for at < len(s.cells) {
		switch {
		case isLetter(s.cells[at].r):
		case s.cells[at].r == '\'' && isLetter(s.runeAt(at+1)):
		default:
			return at
		}
		at++
	}
	return at
}

// possessive gives the end of the word without a final 's.
func possessive(cells []cell, at, end int) int {
	if end-at > 2 && cells[end-2].r == '\'' && cells[end-1].r == 's' {
		return end - 2
	}
	return end
}

// text is the letters and figures of the cells from at to end.
func (s *Splitter) text(at, end int) []byte {
	s.buf = s.buf[:0]
	for _, c := range s.cells[at:end] {
		if isLetter(c.r) || isDigit(c.r) {
			s.buf = appendRune(s.buf, c.r)
		}
	}
	return s.buf
}

// entry gives what is known of a word or code.
func (s *Splitter) entry(word []byte) *entry {
	if s.Lexicon != nil {
		return s.Lexicon.entry(word)
	}
	return newEntry(string(word))
}

// emit adds the token of a word or code that stands from at to end.
func (s *Splitter) emit(e *entry, kind Kind, at, end int) {
	e.met.Add(1)
	s.out = append(s.out, Token{Term: e.term, Word: e.word, Start: s.cells[at].start, End: s.cells[end-1].end, Pos: s.pos, Kind: kind})
}

// runeAt is the folded character at a place, or 0 outside the text.
func (s *Splitter) runeAt(at int) rune {
	if at < 0 || at >= len(s.cells) {
		return 0
	}
	return s.cells[at].r
}
