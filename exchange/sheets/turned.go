package sheets

import (
	"regexp"
	"slices"
	"strconv"
	"strings"

	"yearmark/schema"
	"yearmark/schema/edtf"
)

// What people and their spreadsheets make of a text. Which of these LibreOffice
// makes is tested; Excel's "Jun-65" is common practice, no source.
var (
	dash         = regexp.MustCompile(`\s*[‐‑‒–—−]\s*`)
	decimalComma = regexp.MustCompile(`\b(\d+),(\d{1,2}|0\d{2})\b`)
	monthNamed   = regexp.MustCompile(`(?i)\b(jan|feb|mar|apr|may|jun|jul|aug|sep|oct|nov|dec)[a-z]*\b`)
	clock        = regexp.MustCompile(`^(\d{1,2}):(\d\d)(?::(\d\d))?(?: ?([AaPp])[Mm])?$`)
	halfDays     = regexp.MustCompile(`^\d{1,2}:\d\d(?::\d\d)? ?[AaPp][Mm]$`)
	dayShown     = regexp.MustCompile(`^(?:\d{1,2}[-./ ]+){2}(?:\d\d|\d{4})$|^\d{1,2}[-. ]+[A-Za-z]{3,}\.?$`)
	cellFault    = regexp.MustCompile(`^(?:#(?:NAME\?|VALUE!|REF!|DIV/0!|N/A|NUM!|NULL!)|Err:\d+|#{3,})$`)
	isoDate      = regexp.MustCompile(`^\d{4}-\d\d(?:-\d\d)?$`)
	fraction     = regexp.MustCompile(`^\d{1,2}/\d{1,2}$`)
	figureShown  = regexp.MustCompile(`^-?(?:\d+(?:[.,]\d+)?|[.,]\d+)$`)
)

// century is that of a month's year that a spreadsheet shows with two digits.
const century = 19

// meant gives what a cell of the form says where a person or a spreadsheet
// wrote it otherwise than records do: years with a dash, a month by its name, a
// decimal comma. All else is given as it stands.
func (f form) meant(cell string) string {
	switch f {
	case years:
		if !dash.MatchString(cell) && !monthNamed.MatchString(cell) {
			return cell
		}
		if offers := edtf.FromWords(cell, century); len(offers) == 1 {
			return offers[0].Write
		}
	case figures:
		plain := decimalComma.ReplaceAllString(cell, "$1.$2")
		if between := dash.ReplaceAllString(plain, ".."); between != plain {
			if _, err := schema.ParseRange(between); err == nil {
				return between
			}
		}
		return plain
	}
	return cell
}

// turned says what a spreadsheet made of a cell, where nobody can tell from it
// what was written.
func turned(f form, cell string) *misread {
	const again = "Give the column the format “Text” in the spreadsheet, and write the cell again."
	switch {
	case cellFault.MatchString(cell):
		return &misread{"the spreadsheet shows an error in place of what was written", again}
	case f == figures && dayShown.MatchString(cell):
		return &misread{"the spreadsheet made the date " + strconv.Quote(cell) + " of a figure", again}
	case f == word && halfDays.MatchString(cell):
		return &misread{"the spreadsheet made the time of day " + strconv.Quote(cell) + " of what was written", again}
	}
	return nil
}

// shownAs says whether a cell is what a spreadsheet shows of a text that it
// took for a number, a time of day or a date: 7 of 0007, 12:08:00 AM of 0:08,
// 01/08/26 of 1/8, Jun-65 of 1965-06.
func shownAs(text, cell string) bool {
	if text == cell || text == "" || cell == "" {
		return false
	}
	switch {
	case figureShown.MatchString(text):
		return figureShown.MatchString(cell) && number(text) == number(cell)
	case clock.MatchString(text):
		return clock.MatchString(cell) && secondOfDay(text) == secondOfDay(cell)
	case isoDate.MatchString(text), fraction.MatchString(text):
		return !isoDate.MatchString(cell) && !fraction.MatchString(cell) && sameDay(text, cell)
	}
	return false
}

func number(text string) float64 {
	x, _ := strconv.ParseFloat(strings.Replace(text, ",", ".", 1), 64)
	return x
}

func secondOfDay(text string) int {
	m := clock.FindStringSubmatch(text)
	of := func(s string) int { n, _ := strconv.Atoi(s); return n }
	hour := of(m[1])
	if half := strings.ToLower(m[4]); half != "" {
		hour %= 12
		if half == "p" {
			hour += 12
		}
	}
	return (hour*60+of(m[2]))*60 + of(m[3])
}

// sameDay says whether a cell shows the day, the month, or the two figures of a
// text as a date, in whatever order.
func sameDay(text, cell string) bool {
	cell = strings.TrimSuffix(strings.TrimSuffix(cell, " 00:00:00"), " 0:00")
	want, got := datePieces(text), datePieces(cell)
	for _, n := range want {
		at := slices.Index(got, n)
		if at < 0 {
			return false
		}
		got = slices.Delete(got, at, at+1)
	}
	// What is left is what the spreadsheet added: the year of a fraction, the first of a month.
	return len(got) == 0 || len(got) == 1 && (fraction.MatchString(text) || len(want) == 2 && got[0] == 1)
}

// datePieces gives the figures of a date, a month by its name among them, and
// the last two digits of a year; nil of what is no date.
func datePieces(text string) []int {
	months := []string{"jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec"}
	var all []int
	for _, piece := range strings.FieldsFunc(text, func(r rune) bool { return strings.ContainsRune("-./, ", r) }) {
		n, err := strconv.Atoi(piece)
		if err != nil {
			m := monthNamed.FindString(piece)
			if m == "" {
				return nil
			}
			n = 1 + slices.Index(months, strings.ToLower(m[:3]))
		}
		all = append(all, n%100)
	}
	return all
}
