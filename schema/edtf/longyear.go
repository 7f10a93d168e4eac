package edtf

import (
	"fmt"
	"strconv"
	"strings"
)

// maxDigits is the number of digits in MaxYear.
const maxDigits = 9

// longYear reads what follows Y: a year of five digits or more, perhaps with
// an exponent (Y17E7) and significant digits (Y171010000S3).
func (s *scanner) longYear() (date, *SyntaxError) {
	year := component{negative: s.take("-") != 0, at: s.at()}
	year.digits = s.run(digits)
	if year.digits == "" {
		return date{}, s.stray()
	}
	level := 1
	if s.take("E") != 0 {
		zeros, f := s.exponent(len(year.digits))
		if f != nil {
			return date{}, f
		}
		level, year.digits = 2, year.digits+strings.Repeat("0", zeros)
	}
	switch {
	case len(year.digits) > maxDigits:
		return date{}, tooLong(year.at)
	case year.digits[0] == '0':
		return date{}, fault(year.at, "a year after Y begins with a digit from 1 to 9", "leave the leading zeros out, and Y too for a year of four digits")
	case len(year.digits) < 5:
		return date{}, fault(year.at, "Y is for years of more than four digits", "write the year in four digits, without Y")
	case s.peek() == 'S':
		return s.significant(year)
	}
	return s.yearAlone(year, level)
}

// exponent reads the number of zeros after E.
func (s *scanner) exponent(already int) (int, *SyntaxError) {
	at := s.at()
	zeros := s.run(digits)
	n, err := strconv.Atoi(zeros)
	switch {
	case zeros == "":
		return 0, s.stray()
	case zeros[0] == '0':
		return 0, fault(at, "the number after E begins with 0", "write E and how many zeros follow, such as E5, or leave it out")
	case err != nil, n+already > maxDigits:
		return 0, tooLong(at)
	}
	return n, nil
}

func tooLong(at int) *SyntaxError {
	return fault(at, fmt.Sprintf("the year has more than %d digits", maxDigits), fmt.Sprintf("write a year from -%d to %d", MaxYear, MaxYear))
}

// yearAlone ends a long year, which has no month or day.
func (s *scanner) yearAlone(year component, level int) (date, *SyntaxError) {
	year.right = s.take(marks)
	if !s.done() {
		return date{}, s.stray()
	}
	d := date{level: level, runs: year.years(false), components: []component{year}}
	d.qualify([]component{year})
	d.span()
	return d, nil
}

// span sets the first and last day from whole years.
func (d *date) span() {
	h := d.hull()
	d.first, d.last = days{first: 32}.at(h.First).first, days{last: 12*32 + 31}.at(h.Last).last
}

// significant reads S and how many digits of the year count: 1950S2 is an
// estimate of 1950 for some year from 1900 to 1999.
func (s *scanner) significant(year component) (date, *SyntaxError) {
	if year.masked() || year.left != 0 || year.right != 0 {
		return date{}, fault(s.at(), "S follows an X or a mark", "write either X for the digits that are not known, or all digits and S")
	}
	s.take("S")
	at := s.at()
	count := s.run(digits)
	n, err := strconv.Atoi(count)
	switch {
	case count == "":
		return date{}, s.stray()
	case err != nil, count[0] == '0', n > len(year.digits):
		return date{}, fault(at, fmt.Sprintf("the number after S is not from 1 to %d", len(year.digits)), "write after S how many digits of the year, from the left, are sure")
	case s.peek() == 'S':
		return date{}, fault(s.at(), "S stands twice", "leave out one of the two")
	}
	d, f := s.yearAlone(year, 2)
	if f != nil || n == len(year.digits) {
		return d, f
	}
	d.estimate, d.estimated, d.choice = d.runs[0].First, true, true
	low, _ := strconv.Atoi(year.digits[:n] + strings.Repeat("0", len(year.digits)-n))
	high, _ := strconv.Atoi(year.digits[:n] + strings.Repeat("9", len(year.digits)-n))
	if year.negative {
		low, high = -high, -low
	}
	d.runs = []Range{{low, high}}
	d.span()
	return d, nil
}
