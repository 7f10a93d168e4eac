package edtf

import (
	"cmp"
	"slices"
)

// merge sorts runs of years and joins those that touch or overlap.
func merge(runs []Range) []Range {
	slices.SortFunc(runs, func(a, b Range) int {
		return cmp.Or(cmp.Compare(a.First, b.First), cmp.Compare(a.Last, b.Last))
	})
	joined := runs[:0]
	for _, r := range runs {
		if n := len(joined); n > 0 && r.First <= joined[n-1].Last+1 {
			joined[n-1].Last = max(joined[n-1].Last, r.Last)
			continue
		}
		joined = append(joined, r)
	}
	return joined
}

// Runs gives the runs of adjoining years in a rising list.
func Runs(years []int) []Range {
	var runs []Range
	for _, year := range years {
		if n := len(runs); n > 0 && year == runs[n-1].Last+1 {
			runs[n-1].Last = year
			continue
		}
		runs = append(runs, Range{year, year})
	}
	return runs
}

// Stretches puts rising years into words, those that follow one another as "1964–1967".
func Stretches(years []int) []string {
	var words []string
	for _, r := range Runs(years) {
		words = append(words, r.String())
	}
	return words
}
