package checks

import (
	"cmp"
	"fmt"
	"slices"

	"yearmark/schema/edtf"
	"yearmark/schema/english"
)

// years is a set of whole years as runs in order that neither touch nor overlap.
type years []edtf.Range

// tidy sorts runs and joins those that touch.
func tidy(runs []edtf.Range) years {
	slices.SortFunc(runs, func(a, b edtf.Range) int {
		return cmp.Or(cmp.Compare(a.First, b.First), cmp.Compare(a.Last, b.Last))
	})
	joined := runs[:0]
	for _, r := range runs {
		switch n := len(joined); {
		case r.Last < r.First:
		case n > 0 && r.First <= joined[n-1].Last+1:
			joined[n-1].Last = max(joined[n-1].Last, r.Last)
		default:
			joined = append(joined, r)
		}
	}
	return years(joined)
}

// possibleYears gives the years in which a span can hold.
func possibleYears(y edtf.Years) years {
	if y.Empty() {
		return nil
	}
	if y.Members == nil {
		return years{{First: y.A, Last: y.D}}
	}
	runs := make([]edtf.Range, len(y.Members))
	for i, m := range y.Members {
		runs[i] = edtf.Range{First: m, Last: m}
	}
	return tidy(runs)
}

// certainYears gives the years in which a span must hold.
func certainYears(y edtf.Years) years { return years(y.CertainRuns()) }

// with gives the years that lie in both.
func (s years) with(t years) years {
	var both years
	for i, j := 0, 0; i < len(s) && j < len(t); {
		r := edtf.Range{First: max(s[i].First, t[j].First), Last: min(s[i].Last, t[j].Last)}
		if r.First <= r.Last {
			both = append(both, r)
		}
		if s[i].Last < t[j].Last {
			i++
		} else {
			j++
		}
	}
	return both
}

// without gives the years of s that are not in t.
func (s years) without(t years) years {
	var left years
	j := 0
	for _, r := range s {
		for j < len(t) && t[j].Last < r.First {
			j++
		}
		for k := j; k < len(t) && t[k].First <= r.Last; k++ {
			if r.First < t[k].First {
				left = append(left, edtf.Range{First: r.First, Last: t[k].First - 1})
			}
			r.First = t[k].Last + 1
		}
		if r.First <= r.Last {
			left = append(left, r)
		}
	}
	return left
}

// count is the number of years in the set.
func (s years) count() int {
	n := 0
	for _, r := range s {
		n += r.Last - r.First + 1
	}
	return n
}

// String lists the runs for people: "1961, 1964–1966 and 1969"; beyond four
// it counts the rest.
func (s years) String() string {
	const most = 4
	words := make([]string, 0, len(s))
	for i, r := range s {
		switch {
		case i == most && len(s) > most+1:
			words = append(words, fmt.Sprintf("%d more stretches", len(s)-most))
			return english.And(words)
		default:
			words = append(words, r.String())
		}
	}
	return english.And(words)
}
