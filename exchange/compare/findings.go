package compare

import (
	"cmp"
	"slices"

	"yearmark/checks"
)

// findingChanges compares two reports as bags: a finding twice in one and once
// in the other was gained or lost once.
func findingChanges(before, after checks.Report) FindingChanges {
	count := map[Finding]int{}
	for _, f := range before.Findings {
		count[findingOf(f)]--
	}
	for _, f := range after.Findings {
		count[findingOf(f)]++
	}
	changes := FindingChanges{[]Finding{}, []Finding{}}
	for f, n := range count {
		for ; n > 0; n-- {
			changes.Gained = append(changes.Gained, f)
		}
		for ; n < 0; n++ {
			changes.Lost = append(changes.Lost, f)
		}
	}
	slices.SortFunc(changes.Gained, Finding.compare)
	slices.SortFunc(changes.Lost, Finding.compare)
	return changes
}

func findingOf(f checks.Finding) Finding { return Finding{f.Check, f.Level, f.Pos.File(), f.Message} }

// compare puts errors before warnings before notes, then goes by place and words.
func (f Finding) compare(g Finding) int {
	return cmp.Or(cmp.Compare(slices.Index(checks.Levels, f.Level), slices.Index(checks.Levels, g.Level)),
		cmp.Compare(f.File, g.File), cmp.Compare(f.Check, g.Check), cmp.Compare(f.Message, g.Message))
}
