package words

// codeEnd gives the place behind a model number or mark that begins with the
// letters from at to end, or 0 where there is none. It is up to four letters
// and figures, written together or joined by one of - . / or, after a single
// letter other than the article a, by a blank (then three figures at most);
// and then what follows without a gap: H-24, h 24, KM31b, H-24-B.
func (s *Splitter) codeEnd(at, end int) int {
	if end-at > 4 {
		return 0
	}
	from := end
	switch r := s.runeAt(end); {
	case isDigit(r):
	case (r == '-' || r == '.' || r == '/') && isDigit(s.runeAt(end+1)):
		from = end + 1
	case r == ' ' && end-at == 1 && s.cells[at].r != 'a' && isDigit(s.runeAt(end+1)):
		from = end + 1
	default:
		return 0
	}
	to := s.digitRun(from)
	if s.runeAt(end) == ' ' && (to-from > 3 || s.hasFraction(from, to)) {
		return 0
	}
	if end-at >= 3 && from > end && isYear(s.cells[from:to]) {
		return 0
	}
	return s.codeTail(to)
}

// codeTail takes in the letters and figures that follow a code without a gap, and a
// last hyphen with one or two letters.
func (s *Splitter) codeTail(to int) int {
	for isLetter(s.runeAt(to)) || isDigit(s.runeAt(to)) {
		to++
	}
	if s.runeAt(to) != '-' {
		return to
	}
	end := to + 1
	for isLetter(s.runeAt(end)) && end-to <= 3 {
		end++
	}
	if n := end - to - 1; n < 1 || n > 2 || isDigit(s.runeAt(end)) || s.runeAt(end) == '-' {
		return to
	}
	return end
}

// code emits a code without its joints, and as extras its figures and a
// first part of three or four letters.
func (s *Splitter) code(at, lettersEnd, to int) {
	s.pos++
	if to-at > LongestWord {
		return
	}
	s.emit(s.entry(s.text(at, to)), Code, at, to)
	if lettersEnd-at >= 3 {
		if e := s.entry(s.text(at, lettersEnd)); !e.stop {
			s.extra(e.term, at, to)
		}
	}
	from := lettersEnd
	for from < to && !isDigit(s.cells[from].r) {
		from++
	}
	if end := s.digitRun(from); end > from {
		s.extra(string(s.text(from, end)), at, to)
	}
}

// extra emits a second way to find the token just emitted.
func (s *Splitter) extra(term string, at, to int) {
	s.out = append(s.out, Token{Term: term, Start: s.cells[at].start, End: s.cells[to-1].end, Pos: s.pos, Kind: Part})
}

func (s *Splitter) digitRun(at int) int {
	for isDigit(s.runeAt(at)) {
		at++
	}
	return at
}

// hasFraction says whether decimals or a fraction belong to the whole number from at to end.
func (s *Splitter) hasFraction(at, end int) bool {
	_, to := s.fractionOf(at, end, string(s.text(at, end)))
	return to > 0
}

// isYear says whether the figures are a year that records could speak of.
func isYear(cells []cell) bool {
	if len(cells) != 4 {
		return false
	}
	century := (cells[0].r-'0')*10 + cells[1].r - '0'
	return century >= 18 && century <= 20
}
