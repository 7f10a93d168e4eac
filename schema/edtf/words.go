package edtf

import (
	"fmt"
	"strconv"
	"strings"

	"yearmark/schema/english"
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
		return english.And(few(y.CertainRuns()))
	case y.B > y.C:
		return "some time in " + Range{y.A, y.D}.String()
	}
	certain := Range{y.B, y.C}.String()
	switch {
	case y.A < y.B && y.C < y.D:
		return fmt.Sprintf("%s, possibly %s", certain, Range{y.A, y.D}.String())
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
		runs = Runs(y.Members)
	}
	switch {
	case y.A == y.D:
		return yearName(y.A)
	case y.count() == 2:
		return yearName(y.A) + " or " + yearName(y.D)
	case len(runs) == 1:
		return oneYearOf + runs[0].String()
	}
	return "one of " + strings.Join(few(runs), ", ")
}

// few tells runs of years; a long list is shortened in its middle.
func few(runs []Range) []string {
	const most = 8
	var names []string
	for i, r := range runs {
		switch {
		case len(runs) > most && i == most-2:
			names = append(names, "…")
		case len(runs) > most && i > most-2 && i < len(runs)-1:
		default:
			names = append(names, r.String())
		}
	}
	return names
}

// String tells a range of years as people print it: "1964", "1964–1967", "5–3 BC".
func (r Range) String() string {
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
