package schema

import (
	"cmp"
	"fmt"
	"strconv"
	"strings"
	"time"
	"unicode"
)

// Locator is a place in a source as it is matched: "p. 2", "p2" and "page 2"
// are one, "pp. 2-3" is both pages, "12:34", "0:12:34" and "t=754" are one time.
type Locator struct {
	parts []locatorPart
	fault string // why it looks like a time and is none
}

// locatorPart is what stands between two commas: numbers of one label, a time,
// or words.
type locatorPart struct {
	label string    // "p" of pages; of words the words themselves
	spans []ordinal // the numbers, pairs of first and last; nil for words
	time  TimeSpan
	timed bool
}

// ordinal is a number as places are counted: 6, T12, 3a, xiv.
type ordinal struct {
	before string // letters before it; "roman" of Roman numerals
	number int
	after  string
}

// TimeSpan is a stretch of a recording. One second or instant has End = Start.
type TimeSpan struct{ Start, End time.Duration }

// ParseLocator reads a place in a source. It takes whatever people write: what
// has no number or time in it is matched by its words, without regard to
// capitals, full stops, quotation marks and spaces.
func ParseLocator(place string) Locator {
	if span, fault, isTime := parseTimes(strings.TrimSpace(place)); isTime {
		if fault != "" {
			return Locator{fault: fault, parts: []locatorPart{{label: plainWords(place)}}}
		}
		return Locator{parts: []locatorPart{{time: span, timed: true}}}
	}
	var l Locator
	for text := range strings.SplitSeq(place, ",") {
		words := strings.Fields(plainWords(text))
		if len(words) == 0 {
			continue
		}
		part := partOf(words)
		if last := len(l.parts) - 1; last >= 0 && part.label == "" && part.spans != nil && l.parts[last].spans != nil {
			l.parts[last].spans = append(l.parts[last].spans, part.spans...) // "pp. 2, 5"
			continue
		}
		l.parts = append(l.parts, part)
	}
	return l
}

// Time is the stretch of a recording that the place names; ok is false where it
// names none.
func (l Locator) Time() (span TimeSpan, ok bool) {
	if len(l.parts) != 1 {
		return TimeSpan{}, false
	}
	return l.parts[0].time, l.parts[0].timed
}

// Within says that the place lies in another or shares a page or second with
// it: "p. 6, footnote" lies in "p. 6", "pp. 2-3" shares a page with "p. 3".
func (l Locator) Within(other Locator) bool {
	if len(other.parts) == 0 || len(l.parts) < len(other.parts) {
		return false
	}
	for i, part := range other.parts {
		if !part.meets(l.parts[i]) {
			return false
		}
	}
	return true
}

// Key is one for places that are the same: "p. 2" and "page 2" have one key,
// "pp. 2-3" and "p. 3" have two.
func (l Locator) Key() string { return fmt.Sprint(l.parts) }

// same says that the two name one place.
func (l Locator) same(other Locator) bool {
	return len(l.parts) == len(other.parts) && l.Within(other)
}

func (p locatorPart) meets(q locatorPart) bool {
	switch {
	case p.timed || q.timed:
		return p.timed && q.timed && p.time.meets(q.time)
	case p.label != q.label:
		return false
	case p.spans == nil || q.spans == nil:
		return p.spans == nil && q.spans == nil
	}
	for i := 0; i < len(p.spans); i += 2 {
		for j := 0; j < len(q.spans); j += 2 {
			if !q.spans[j+1].less(p.spans[i]) && !p.spans[i+1].less(q.spans[j]) && alike(p.spans[i], q.spans[j]) {
				return true
			}
		}
	}
	return false
}

// meets says that the two share an instant; the end of a stretch is not in it.
func (s TimeSpan) meets(t TimeSpan) bool { return s.Start < t.end() && t.Start < s.end() }

// end is where the stretch ends. A time in whole seconds is all of its second.
func (s TimeSpan) end() time.Duration {
	switch {
	case s.End > s.Start:
		return s.End
	case s.Start%time.Second == 0:
		return s.Start + time.Second
	}
	return s.Start + 1
}

// alike says that two numbers are counted in one sequence.
func alike(a, b ordinal) bool { return a.before == b.before }

func (o ordinal) less(p ordinal) bool {
	if c := cmp.Compare(o.number, p.number); c != 0 {
		return c < 0
	}
	return o.after < p.after
}

// labels gives one name to the words by which a kind of place is counted.
var labels = map[string]string{
	"pp": "p", "pg": "p", "page": "p", "pages": "p", "ff": "f", "fo": "f", "fol": "f", "fols": "f", "folio": "f", "folios": "f", "leaf": "f",
	"number": "no", "numbers": "no", "nos": "no", "nr": "no", "№": "no", "#": "no", "column": "col", "columns": "col", "cols": "col", "plate": "pl", "plates": "pl", "pls": "pl",
	"figure": "fig", "figures": "fig", "figs": "fig", "l": "line", "ll": "line", "lines": "line", "chapter": "ch", "chapters": "ch", "volume": "vol", "volumes": "vol", "item": "no", "entry": "no",
}

// partOf reads the words between two commas.
func partOf(words []string) locatorPart {
	label := ""
	rest := words
	if head, digits := letters(words[0]); digits == "" && len(words) > 1 && numbered(words[1:]) {
		label, rest = head, words[1:]
	} else if canonical, known := labels[head]; digits != "" && (known || head == "p" || head == "f" || head == "no") {
		label, rest = cmp.Or(canonical, head), append([]string{digits}, words[1:]...) // "p2"
	}
	spans := numbersOf(rest)
	if spans == nil || label == "" && spans[0].before == roman {
		return locatorPart{label: strings.Join(words, " ")}
	}
	if canonical, known := labels[label]; known {
		label = canonical
	} else if len(label) > 3 {
		label = strings.TrimSuffix(label, "s") // "cards 3 to 5"
	}
	return locatorPart{label: label, spans: spans}
}

// numbered says that words begin with a number as places are counted.
func numbered(words []string) bool {
	return numbersOf(words) != nil
}

// letters parts a word into the letters that it begins with and the rest.
func letters(word string) (head, rest string) {
	i := strings.IndexFunc(word, func(r rune) bool { return !unicode.IsLetter(r) && r != '№' && r != '#' })
	if i < 0 {
		return word, ""
	}
	return word[:i], word[i:]
}

// numbersOf reads "2", "2-3", "2 to 3", "2 and 5": pairs of first and last, or
// nil where the words are anything else.
func numbersOf(words []string) []ordinal {
	var spans []ordinal
	joined := "and"
	for _, word := range words {
		if word == "to" || word == "and" || word == "&" || word == "-" {
			if joined != "" {
				return nil
			}
			joined = word
			continue
		}
		first, last, isRange := strings.Cut(word, "-")
		a, ok := ordinalOf(first)
		if !ok || joined == "" {
			return nil
		}
		switch {
		case (joined == "to" || joined == "-") && len(spans) > 0 && !isRange:
			spans[len(spans)-1] = lastOf(spans[len(spans)-2], a)
		case isRange:
			b, ok := ordinalOf(last)
			if !ok {
				return nil
			}
			spans = append(spans, a, lastOf(a, b))
		default:
			spans = append(spans, a, a)
		}
		joined = ""
	}
	if joined != "" {
		return nil
	}
	return spans
}

// lastOf completes a shortened end: of 123-5 it is 125, of T12-15 it is T15.
func lastOf(first, last ordinal) ordinal {
	if last.before == "" {
		last.before = first.before
	}
	if last.number < first.number && first.before != roman {
		tens := 1
		for tens <= last.number {
			tens *= 10
		}
		last.number += first.number / tens * tens
	}
	return last
}

// roman stands for the letters of Roman numerals.
const roman = "roman"

// maxOrdinal bounds the digits of a number, so that it fits.
const maxOrdinal = 9

func ordinalOf(word string) (ordinal, bool) {
	head, rest := letters(word)
	if rest == "" {
		n, ok := romanNumber(head)
		return ordinal{before: roman, number: n}, ok
	}
	end := len(rest)
	if i := strings.IndexFunc(rest, func(r rune) bool { return r < '0' || r > '9' }); i >= 0 {
		end = i
	}
	after := rest[end:]
	if end == 0 || end > maxOrdinal || len(head) > 3 || len(after) > 3 || strings.IndexFunc(after, func(r rune) bool { return !unicode.IsLetter(r) }) >= 0 {
		return ordinal{}, false
	}
	n, err := strconv.Atoi(rest[:end])
	return ordinal{before: head, number: n, after: after}, err == nil
}

// romanNumber reads small Roman numerals below 400, as forewords are paged.
func romanNumber(s string) (int, bool) {
	value := map[rune]int{'i': 1, 'v': 5, 'x': 10, 'l': 50, 'c': 100}
	sum, last := 0, 0
	for _, r := range s {
		v := value[r]
		if v == 0 {
			return 0, false
		}
		if last > 0 && last < v {
			sum -= 2 * last
		}
		sum, last = sum+v, v
	}
	return sum, sum > 0 && len(s) <= 9
}

// plainWords drops what does not tell places apart: capitals, full stops,
// quotation marks, the forms of hyphens.
func plainWords(s string) string {
	s = strings.ToLower(s)
	return strings.Join(strings.FieldsFunc(strings.Map(plainRune, s), unicode.IsSpace), " ")
}

func plainRune(r rune) rune {
	switch r {
	case '–', '—', '‐', '‑', '−':
		return '-'
	case '.', '\u00a0', '\u202f':
		return ' '
	case '"', '\'', '“', '”', '„', '‘', '’', '«', '»':
		return -1
	}
	return r
}
