package edtf

import (
	"fmt"
	"strconv"
	"strings"
)

// String tells the years in plain words: "1964–1967", "1964–1967, possibly to
// 1971", "some time in 1962–1966", "one of 1966, 1968", "no year".
func (y Years) String() string {
	switch {
	case y.Empty():
		return "no year"
	case y.Choice == OneOf:
		return y.oneOf()
	case y.Choice == AllOf:
		return listed(y.CertainRuns(), "and")
	case y.B > y.C:
		return "some time in " + stretch(Range{y.A, y.D})
	}
	certain := stretch(Range{y.B, y.C})
	switch {
	case y.A < y.B && y.C < y.D:
		return fmt.Sprintf("%s, possibly %s", certain, stretch(Range{y.A, y.D}))
	case y.A < y.B:
		return fmt.Sprintf("%s, possibly from %s", certain, yearName(y.A))
	case y.C < y.D:
		return fmt.Sprintf("%s, possibly to %s", certain, yearName(y.D))
	}
	return certain
}

// oneOf tells a choice of years.
func (y Years) oneOf() string {
	runs := []Range{{y.A, y.D}}
	if y.Members != nil {
		runs = runsOf(y.Members)
	}
	switch {
	case y.A == y.D:
		return yearName(y.A)
	case y.count() == 2:
		return yearName(y.A) + " or " + yearName(y.D)
	case len(runs) == 1:
		return oneYearOf + stretch(runs[0])
	}
	return "one of " + listed(runs, "")
}

// listed tells runs of years, the last joined by a word where one is given.
// A long list is shortened in its middle.
func listed(runs []Range, word string) string {
	const most = 8
	var names []string
	for i, r := range runs {
		switch {
		case len(runs) > most && i == most-2:
			names = append(names, "…")
		case len(runs) > most && i > most-2 && i < len(runs)-1:
		default:
			names = append(names, stretch(r))
		}
	}
	last := len(names) - 1
	if word == "" || last == 0 {
		return strings.Join(names, ", ")
	}
	return strings.Join(names[:last], ", ") + " " + word + " " + names[last]
}

// stretch tells a range of years.
func stretch(r Range) string {
	switch {
	case r.First == r.Last:
		return yearName(r.First)
	case r.First <= 0 && r.Last <= 0:
		return fmt.Sprintf("%d–%s", 1-r.First, yearName(r.Last))
	}
	return yearName(r.First) + "–" + yearName(r.Last)
}

// yearName tells a year as people write it; year 0 is 1 BC.
func yearName(year int) string {
	switch {
	case year <= 0:
		return strconv.Itoa(1-year) + " BC"
	case year < 1000:
		return "AD " + strconv.Itoa(year)
	}
	return strconv.Itoa(year)
}
