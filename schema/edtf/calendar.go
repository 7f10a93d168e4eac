package edtf

import (
	"fmt"
	"strconv"
	"strings"
)

// calendarDate makes a date of a year and, if written, a month or part of the
// year and a day.
func calendarDate(parts []component) (date, *SyntaxError) {
	d := date{level: levelOf(parts), components: parts}
	d.qualify(parts)
	year := parts[0]
	for _, c := range parts {
		d.masked = d.masked || c.masked()
	}
	d.choice = year.masked()
	if len(parts) > 1 && !parts[1].masked() && parts[1].digits >= "21" && parts[1].digits <= "41" {
		return d, d.partOfYear(parts)
	}
	common, leap := yearDays(parts, false), yearDays(parts, true)
	d.runs = year.years(common.empty())
	if leap.empty() || len(d.runs) == 0 {
		return d, noSuchDay(parts)
	}
	h := d.hull()
	d.first, d.last = daysIn(h.First, common, leap).at(h.First).first, daysIn(h.Last, common, leap).at(h.Last).last
	return d, nil
}

// levelOf gives the lowest level that allows these components.
func levelOf(parts []component) int {
	year, last := parts[0], parts[len(parts)-1]
	level := 0
	if year.negative || last.right != 0 {
		level = 1
	}
	for i, c := range parts {
		switch {
		case c.left != 0, c.right != 0 && i < len(parts)-1:
			return 2
		case !c.masked():
			if i > 0 && parts[i-1].masked() {
				return 2 // 156X-12, 1985-XX-04
			}
		case i == 0 && (len(parts) > 1 || strings.Contains(c.digits[:2], "X") || c.digits[3] != 'X'):
			return 2 // 156X-12, 1XXX, 19X4
		case i > 0 && c.digits != "XX":
			return 2 // 1984-1X
		default:
			level = 1
		}
	}
	return level
}

// qualify notes the marks: on the right of a component one covers that
// component and all to its left, on the left that component alone.
func (d *date) qualify(parts []component) {
	for i, c := range parts {
		d.note(c.left, i == 0)
		d.note(c.right, true)
	}
}

// note takes in one mark, or 0 for none.
func (d *date) note(mark byte, coversYear bool) {
	d.doubted = d.doubted || mark == '?' || mark == '%'
	about := mark == '~' || mark == '%'
	d.approximate = d.approximate || about
	d.about = d.about || about && coversYear
}

// days is a stretch of days of one year, as month*32 + day; the zero days are none.
type days struct{ first, last int64 }

func (d days) empty() bool { return d == days{} }

// at gives the stretch in a particular year.
func (d days) at(year int) days {
	return days{int64(year)*512 + d.first, int64(year)*512 + d.last}
}

// daysIn picks the days for a year.
func daysIn(year int, common, leap days) days {
	if isLeap(year) {
		return leap
	}
	return common
}

// yearDays gives the first and last day of a common or leap year that the
// month and day allow.
func yearDays(parts []component, leap bool) days {
	if len(parts) == 1 {
		return days{1*32 + 1, 12*32 + 31}
	}
	month, day := parts[1].digits, "XX"
	if len(parts) > 2 {
		day = parts[2].digits
	}
	var found days
	for m := 1; m <= 12; m++ {
		if !matches(month, m) {
			continue
		}
		for n := 1; n <= monthDays(m, leap); n++ {
			if !matches(day, n) {
				continue
			}
			found.last = int64(m*32 + n)
			if found.first == 0 {
				found.first = found.last
			}
		}
	}
	return found
}

// matches says whether a number of two digits fits a pattern of digits and X.
func matches(pattern string, n int) bool {
	tens, ones := byte('0'+n/10), byte('0'+n%10)
	return (pattern[0] == 'X' || pattern[0] == tens) && (pattern[1] == 'X' || pattern[1] == ones)
}

// monthDays is the length of a month in days.
func monthDays(month int, leap bool) int {
	switch {
	case month == 2 && leap:
		return 29
	case month == 2:
		return 28
	case month == 4, month == 6, month == 9, month == 11:
		return 30
	}
	return 31
}

// isLeap says whether the year has a 29 February, by the Gregorian rule also before 1582.
func isLeap(year int) bool { return year%4 == 0 && (year%100 != 0 || year%400 == 0) }

// years gives the years that the digits and X of a component fit, all or the
// leap years alone.
func (c component) years(leapOnly bool) []Range {
	low, _ := strconv.Atoi(strings.ReplaceAll(c.digits, "X", "0"))
	high, _ := strconv.Atoi(strings.ReplaceAll(c.digits, "X", "9"))
	if c.negative {
		low, high = -high, -low
	}
	if known := strings.TrimRight(c.digits, "X"); !leapOnly && !strings.Contains(known, "X") {
		return []Range{{low, high}}
	}
	var runs []Range
	for y := low; y <= high; y++ {
		fits := !c.masked() || matches(c.digits[:2], y/100) && matches(c.digits[2:], y%100)
		if fits && (!leapOnly || isLeap(y)) {
			runs = append(runs, Range{y, y})
		}
	}
	return merge(runs)
}

// partOfYear fills in a date whose second component is a code from 21 to 41.
func (d *date) partOfYear(parts []component) *SyntaxError {
	code, _ := strconv.Atoi(parts[1].digits)
	if len(parts) > 2 {
		return fault(parts[2].at, "a season or other part of a year has no days", "leave the day out, or write the month in place of the season")
	}
	d.season = true
	d.level = max(d.level, 1)
	if code > 24 || parts[0].masked() {
		d.level = 2
	}
	d.runs = parts[0].years(false)
	from, to := monthsOf(code)
	h := d.hull()
	d.first, d.last = days{first: int64(from * 32)}.at(h.First).first, days{last: int64(to*32 + 31)}.at(h.Last).last
	return nil
}

// monthsOf gives the months of a quarter, quadrimester or half. A season may
// lie anywhere in its year: the standard does not say which months it covers.
func monthsOf(code int) (from, to int) {
	switch {
	case code >= 40:
		return (code-40)*6 + 1, (code - 39) * 6
	case code >= 37:
		return (code-37)*4 + 1, (code - 36) * 4
	case code >= 33:
		return (code-33)*3 + 1, (code - 32) * 3
	}
	return 1, 12
}

// noSuchDay is the fault of a month or day that no calendar has.
func noSuchDay(parts []component) *SyntaxError {
	month := parts[1]
	if yearDays(parts[:2], true).empty() {
		return fault(month.at, fmt.Sprintf("there is no month %s", month.digits), "write a month from 01 to 12, or a season: 21 spring, 22 summer, 23 autumn, 24 winter")
	}
	without := parts[0].digits + "-" + month.digits
	if parts[0].negative {
		without = "-" + without
	}
	return fault(parts[2].at, fmt.Sprintf("%s has no day %s", without, parts[2].digits), write(without)+", or mend the day", without)
}
