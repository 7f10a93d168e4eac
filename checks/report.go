package checks

// Only gives a report of the findings of some levels; the counts are theirs.
func (r Report) Only(levels ...Level) Report {
	kept := r
	kept.Findings = nil
	for _, f := range r.Findings {
		for _, l := range levels {
			if f.Level == l {
				kept.Findings = append(kept.Findings, f)
				break
			}
		}
	}
	kept.Counts = count(kept.Findings)
	return kept
}
