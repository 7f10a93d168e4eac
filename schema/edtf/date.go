package edtf

import (
	"fmt"
	"strings"
	"unicode/utf8"
)

// date is one date: a year, or a year with a month or a part of the year, a
// day and a time of day.
type date struct {
	level       int
	runs        []Range // the years it may lie in
	first, last int64   // its earliest and latest day, comparable with those of another date
	choice      bool    // its year is one of several
	masked      bool    // it has an X
	season      bool    // it names a part of the year by a code
	clock       bool    // it has a time of day
	about       bool    // its year is approximate
	doubted     bool
	approximate bool
	estimate    int
	estimated   bool
	components  []component // year, month, day, as far as written
}

func (d date) hull() Range { return Range{d.runs[0].First, d.runs[len(d.runs)-1].Last} }

func (d date) edge() edge { return edgeOver(d.hull(), written, d.about) }

func (d date) runParts() []part {
	parts := make([]part, len(d.runs))
	for i, r := range d.runs {
		parts[i] = part{years: r, about: d.about}
	}
	return parts
}

// component is a year, month or day as written, with the mark on either side.
type component struct {
	digits      string // digits and X
	at          int    // where they begin
	negative    bool
	left, right byte // ?, ~, % or 0
}

func (c component) masked() bool { return strings.Contains(c.digits, "X") }

// scanner walks over the text of one date.
type scanner struct {
	text string
	pos  int
	base int // where the text begins in the whole expression
}

func (s *scanner) at() int    { return s.base + s.pos }
func (s *scanner) done() bool { return s.pos >= len(s.text) }

// peek gives the next byte, or 0 at the end.
func (s *scanner) peek() byte {
	if s.done() {
		return 0
	}
	return s.text[s.pos]
}

// take steps over the next byte if it is one of the given.
func (s *scanner) take(any string) byte {
	c := s.peek()
	if c == 0 || strings.IndexByte(any, c) < 0 {
		return 0
	}
	s.pos++
	return c
}

// run steps over all bytes that are one of the given.
func (s *scanner) run(any string) string {
	from := s.pos
	for s.take(any) != 0 {
	}
	return s.text[from:s.pos]
}

const (
	marks  = "?~%"
	digits = "0123456789"
	masks  = digits + "X"
)

// component steps over a year, month or day with its marks; only a year has a sign.
func (s *scanner) component(signed bool) (component, *SyntaxError) {
	c := component{left: s.take(marks)}
	c.negative = signed && s.take("-") != 0
	c.at = s.at()
	c.digits = s.run(masks)
	switch {
	case c.digits == "" && c.left != 0:
		return c, fault(c.at, "a mark stands without a date", "put ?, ~ or % straight after the year, such as 1964~")
	case c.digits == "":
		return c, s.stray()
	}
	c.right = s.take(marks)
	if s.take(marks) != 0 || signed && c.left != 0 && c.right != 0 {
		return c, fault(s.at()-1, "two marks stand on one part of the date", "write % for both doubtful and approximate")
	}
	return c, nil
}

// stray is the fault of a character, or of an end, that cannot stand here.
func (s *scanner) stray() *SyntaxError {
	const remedy = "write a year such as 1964, or 1964/1967 for several"
	if s.done() {
		return fault(s.at(), "it stops where a number should follow", remedy)
	}
	if s.peek() == 'P' {
		return fault(s.at(), "P begins a length of time, which is no date", remedy)
	}
	r, _ := utf8.DecodeRuneInString(s.text[s.pos:])
	return fault(s.at(), fmt.Sprintf("the character %q cannot stand here", r), remedy)
}

// parseDate reads one date that begins at base in the whole expression.
func parseDate(text string, base int) (date, *SyntaxError) {
	s := &scanner{text: text, base: base}
	if s.take("Y") != 0 {
		return s.longYear()
	}
	year, f := s.component(true)
	if f != nil {
		return date{}, f
	}
	if f := checkYear(year); f != nil {
		return date{}, f
	}
	if s.peek() == 'S' {
		return s.significant(year)
	}
	return s.afterYear(year)
}

// checkYear refuses what is no year of four digits.
func checkYear(year component) *SyntaxError {
	switch {
	case len(year.digits) > 4:
		return fault(year.at+4, "a year has four digits", "write a longer year with Y before it, such as Y12345")
	case len(year.digits) < 4:
		return fault(year.at+len(year.digits), "a year has four digits", "write all four, such as 1964, with X for a digit that is not known")
	case year.negative && year.digits == "0000":
		return fault(year.at, "year zero has no sign", write("0000"), "0000")
	case year.negative && year.masked():
		return fault(year.at, "a year before year 0 cannot have an X", "write the first and the last year with a stroke between them, such as -0099/-0090")
	}
	return nil
}

// afterYear reads the month, the day and the time of day, if any.
func (s *scanner) afterYear(year component) (date, *SyntaxError) {
	parts := []component{year}
	for len(parts) < 3 && s.take("-") != 0 {
		c, f := s.component(false)
		if f != nil {
			return date{}, f
		}
		if len(c.digits) != 2 {
			return date{}, fault(c.at, "a month and a day have two digits each", "write them as in 1964-05-02")
		}
		parts = append(parts, c)
	}
	d, f := calendarDate(parts)
	if f != nil {
		return date{}, f
	}
	if s.peek() == 'T' {
		return s.timeOfDay(d, parts)
	}
	if !s.done() {
		return date{}, s.stray()
	}
	return d, nil
}
