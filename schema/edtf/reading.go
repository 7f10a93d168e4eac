package edtf

import (
	"fmt"
	"strconv"
	"strings"
)

// Words reads the expression out in plain English, for people who have never
// heard of EDTF: "about 1964 to 1967", "one year of 1960–1969 (in doubt)",
// "2 May 1964", "1964 and onwards". The zero Expr gives "".
func (e Expr) Words() string {
	switch {
	case e.IsZero():
		return ""
	case e.shape == Interval && e.text[0] == '{':
		ends, _, _ := cutBounds(e.text)
		return boundsWords(ends)
	case e.text[0] == '[':
		return e.members("or")
	case e.text[0] == '{':
		return e.members("and")
	case e.shape == Interval:
		return e.ends()
	}
	return dateWords(e.text)
}

// ends reads out an interval.
func (e Expr) ends() string {
	left, right, _ := strings.Cut(e.text, "/")
	switch {
	case e.start.kind == open:
		return "up to " + dateWords(right)
	case e.start.kind == unknown:
		return "an unknown date to " + dateWords(right)
	case e.end.kind == open:
		return dateWords(left) + " and onwards"
	case e.end.kind == unknown:
		return dateWords(left) + " to an unknown date"
	case left == right:
		return dateWords(left)
	}
	return dateWords(left) + " to " + dateWords(right)
}

// members reads out a set, its last member joined by the given word.
func (e Expr) members(word string) string {
	word = " " + word + " "
	var said []string
	for text := range strings.SplitSeq(e.text[1:len(e.text)-1], ",") {
		left, right, run := strings.Cut(text, "..")
		switch {
		case !run:
			said = append(said, dateWords(left))
		case left == "":
			said = append(said, dateWords(right)+word+"earlier")
		case right == "":
			said = append(said, dateWords(left)+word+"later")
		default:
			said = append(said, dateWords(left)+" to "+dateWords(right))
		}
	}
	last := len(said) - 1
	switch {
	case last == 0 && e.shape == OneOf && strings.Contains(said[0], " to "):
		return "some time from " + said[0]
	case last == 0:
		return said[0]
	}
	return strings.Join(said[:last], ", ") + word + said[last]
}

// oneYearOf begins what is said of a year that is one of several in a row.
const oneYearOf = "one year of "

// dateWords reads out one date.
func dateWords(text string) string {
	d, f := parseDate(text, 0)
	if f != nil {
		return text
	}
	said := d.day()
	if d.clock {
		said += ", " + text[strings.IndexByte(text, 'T')+1:]
	}
	if years, choice := strings.CutPrefix(said, oneYearOf); d.approximate && choice {
		said = oneYearOf + "about " + years
	} else if d.approximate {
		said = "about " + said
	}
	if d.doubted {
		said += " (in doubt)"
	}
	return said
}

// day reads out a date without its marks: "2 May 1964", "spring 1964", "1964".
func (d date) day() string {
	year := d.year()
	if len(d.components) < 2 {
		return year
	}
	if d.choice && d.components[1].digits != "XX" {
		year = "of " + year
	}
	month := d.components[1].digits
	if d.season {
		return partNames[month] + " " + year
	}
	n, err := strconv.Atoi(month)
	if err != nil {
		return monthUnknown(month) + year
	}
	said := monthNames[n-1] + " " + year
	if len(d.components) < 3 {
		return said
	}
	if n, err := strconv.Atoi(d.components[2].digits); err == nil {
		return fmt.Sprintf("%d %s", n, said)
	}
	return said
}

// year reads out the year of a date, or the years that it may be.
func (d date) year() string {
	switch {
	case d.estimated:
		return fmt.Sprintf("%s%s, estimated as %s", oneYearOf, d.hull(), yearName(d.estimate))
	case !d.choice:
		return yearName(d.runs[0].First)
	case len(d.runs) == 1:
		return oneYearOf + d.runs[0].String()
	}
	return "one of " + strings.Join(few(d.runs), ", ")
}

// monthUnknown reads out a month of which a digit is not known.
func monthUnknown(month string) string {
	var names []string
	for n, name := range monthNames {
		if month != "XX" && matches(month, n+1) {
			names = append(names, name)
		}
	}
	if len(names) == 0 {
		return ""
	}
	return "a month of " + names[0] + " to " + names[len(names)-1] + " "
}

var monthNames = []string{"January", "February", "March", "April", "May", "June", "July", "August", "September", "October", "November", "December"}

// partNames names the codes for parts of a year. Where a hemisphere is given
// it is left out: the name of the season is the same.
var partNames = map[string]string{
	"21": "spring", "22": "summer", "23": "autumn", "24": "winter",
	"25": "spring", "26": "summer", "27": "autumn", "28": "winter",
	"29": "spring", "30": "summer", "31": "autumn", "32": "winter",
	"33": "first quarter of", "34": "second quarter of", "35": "third quarter of", "36": "fourth quarter of",
	"37": "first third of", "38": "second third of", "39": "last third of",
	"40": "first half of", "41": "second half of",
}
