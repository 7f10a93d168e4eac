package words

import (
	"slices"
	"strconv"
)

// units gives the one spelling of each unit that records may use.
var units = map[string]string{
	"in": "in", "inch": "in", "inches": "in",
	"lb": "lb", "lbs": "lb", "pound": "lb", "pounds": "lb",
	"gr": "gr", "grain": "gr", "grains": "gr",
	"mm": "mm", "millimetre": "mm", "millimetres": "mm", "millimeter": "mm", "millimeters": "mm",
	"cm": "cm", "centimetre": "cm", "centimetres": "cm", "centimeter": "cm", "centimeters": "cm",
	"kg": "kg", "kilo": "kg", "kilos": "kg", "kilogram": "kg", "kilograms": "kg",
	"g": "g", "gram": "g", "grams": "g", "gramme": "g", "grammes": "g",
}

// divisors are the parts into which people divide an inch or a pound; 6/11
// is no fraction.
var divisors = []int{2, 3, 4, 5, 6, 8, 10, 12, 16, 32, 64}

// digits reads a figure, with its fraction and unit, or a code that begins
// with a figure, and gives the place behind it.
func (s *Splitter) digits(at int) int {
	end := s.digitRun(at)
	for end-at <= 3 || s.runeAt(end-4) == ',' {
		if s.runeAt(end) != ',' || s.digitRun(end+1) != end+4 {
			break
		}
		end += 4
	}
	number := string(s.text(at, end))
	switch n, to := s.fractionOf(at, end, number); {
	case to > 0:
		return s.figureAt(at, to, n)
	case isLetter(s.runeAt(end)):
		if _, to := s.unit(end, number); to == 0 {
			return s.mixed(at, end)
		}
	}
	return s.figureAt(at, end, number)
}

// fractionOf reads decimals or a fraction that belong to the whole number from at
// to end, and gives the number's one spelling and the place behind it; 0 where
// there are none.
func (s *Splitter) fractionOf(at, end int, whole string) (string, int) {
	if s.runeAt(end) == '.' && isDigit(s.runeAt(end+1)) {
		to := s.digitRun(end + 1)
		return decimal(whole, string(s.text(end+1, to))), to
	}
	if n, d, to := s.fraction(at); to > 0 {
		return decimal("0", millionths(n, d)), to
	}
	next := end
	for next < end+2 && s.runeAt(next) == ' ' {
		next++
	}
	if next == end && s.runeAt(end) == '-' {
		next++
	}
	if next == end || len(whole) > 3 {
		return "", 0
	}
	if n, d, to := s.fraction(next); to > 0 {
		return decimal(whole, millionths(n, d)), to
	}
	return "", 0
}

// fraction reads n/d at a place, n less than d, and gives the place behind it, or 0.
func (s *Splitter) fraction(at int) (n, d, to int) {
	slash := s.digitRun(at)
	if slash == at || slash-at > 2 || s.runeAt(slash) != '/' {
		return 0, 0, 0
	}
	end := s.digitRun(slash + 1)
	if end == slash+1 || end-slash > 3 || s.runeAt(end) == '/' {
		return 0, 0, 0
	}
	n, _ = strconv.Atoi(string(s.text(at, slash)))
	d, _ = strconv.Atoi(string(s.text(slash+1, end)))
	if n == 0 || n >= d || !slices.Contains(divisors, d) {
		return 0, 0, 0
	}
	return n, d, end
}

// millionths gives n/d as six decimals.
func millionths(n, d int) string {
	v := (2*n*1_000_000 + d) / (2 * d)
	return strconv.Itoa(1_000_000 + v)[1:]
}

// decimal joins a whole number and its decimals, without idle noughts.
func decimal(whole, decimals string) string {
	for len(whole) > 1 && whole[0] == '0' {
		whole = whole[1:]
	}
	for len(decimals) > 0 && decimals[len(decimals)-1] == '0' {
		decimals = decimals[:len(decimals)-1]
	}
	if decimals == "" {
		return whole
	}
	return whole + "." + decimals
}

// figureAt emits the figure and, with a unit behind it, figure and unit in one as
// an extra; a range's first figure shares the unit of its second.
func (s *Splitter) figureAt(at, end int, number string) int {
	s.pos++
	if len(number) > LongestWord {
		return end
	}
	unit, to := s.unit(end, number)
	s.out = append(s.out, Token{Term: number, Start: s.cells[at].start, End: s.cells[max(end, to)-1].end, Pos: s.pos, Kind: Figure})
	if unit == "" {
		s.figure, s.figureEnd = len(s.out)-1, end
		return end
	}
	s.out = append(s.out, s.withUnit(len(s.out)-1, unit))
	if s.figure >= 0 && s.isRange(s.figureEnd, at) {
		s.out = slices.Insert(s.out, s.figure+1, s.withUnit(s.figure, unit))
	}
	s.figure = -1
	return to
}

// withUnit is the extra for the figure emitted as the token at index i.
func (s *Splitter) withUnit(i int, unit string) Token {
	t := s.out[i]
	t.Term, t.Kind = t.Term+unit, Measure
	return t
}

// unit reads a unit of measure behind a figure, at most two blanks or a
// hyphen away, and gives the place behind it. Long figures are years rather than
// inches: "made 1965 in Fellside".
func (s *Splitter) unit(end int, number string) (string, int) {
	at := end
	for at < end+2 && s.runeAt(at) == ' ' {
		at++
	}
	if at == end && s.runeAt(at) == '-' {
		at++
	}
	switch s.runeAt(at) {
	case '"':
		return "in", at + 1
	case '#':
		return "lb", at + 1
	case '\'':
		if s.runeAt(at+1) == '\'' {
			return "in", at + 2
		}
	}
	to := at
	for isLetter(s.runeAt(to)) && to-at < 12 {
		to++
	}
	u := units[string(s.text(at, to))]
	if u == "" || isDigit(s.runeAt(to)) || isLetter(s.runeAt(to)) || u == "in" && len(number) == 4 && number[1] != '.' && number[2] != '.' {
		return "", 0
	}
	return u, to
}

// isRange says whether only a range's sign stands between two places: 30..55, 30 - 55, 30 to 55.
func (s *Splitter) isRange(from, to int) bool {
	if to-from < 1 || to-from > 5 {
		return false
	}
	sign := false
	for i := from; i < to; i++ {
		switch r := s.cells[i].r; {
		case r == '.' || r == '-' || r == 't' && s.runeAt(i+1) == 'o' && s.runeAt(i-1) == ' ' && s.runeAt(i+2) == ' ':
			sign = true
		case r == ' ', r == 'o' && s.runeAt(i-1) == 't':
		default:
			return false
		}
	}
	return sign
}

// mixed emits a run that begins with figures and goes on with letters: 24b, 1960s.
func (s *Splitter) mixed(at, digitsEnd int) int {
	to := s.codeTail(digitsEnd)
	s.pos++
	if to-at > LongestWord {
		return to
	}
	s.emit(s.entry(s.text(at, to)), Code, at, to)
	s.extra(string(s.text(at, digitsEnd)), at, to)
	return to
}
