package pages

import (
	"strings"

	"yearmark/checks"
)

// checksView explains every check.
type checksView struct {
	Base     base
	Count    int
	Families []familyView
	Notes    int
}

type familyView struct {
	ID, Name string
	Checks   []checkView
}

type checkView struct {
	Name, Level, Meaning, Remedy string
	Example, Said                string
}

// familyWords heads each family.
var familyWords = map[checks.Family]string{
	checks.Reading: "Reading the records", checks.Provenance: "Where claims come from", checks.Spans: "Spans of years",
	checks.Contradiction: "Contradictions", checks.Settling: "Disputes and settlements", checks.Specs: "Published figures",
	checks.Examples: "Examined bows", checks.Prose: "Prose", checks.Pictures: "Pictures", checks.Recordings: "Recordings",
}

func (p *page) checks() checksView {
	v := checksView{Base: p.base("What is checked", "Every check that the records pass before they are published.", "")}
	if p.facts.Report != nil {
		v.Notes = p.facts.Report().Counts.Note
	}
	for _, family := range checks.Families {
		view := familyView{ID: "Of-" + string(family), Name: familyWords[family]}
		for _, c := range checks.Registry() {
			if c.Family == family {
				view.Checks = append(view.Checks, checkOf(c))
				v.Count++
			}
		}
		v.Families = append(v.Families, view)
	}
	return v
}

// checkOf splits the worked example into the record's lines and what is said of them.
func checkOf(c checks.Check) checkView {
	lines, said, _ := strings.Cut(c.Example, "→ ")
	return checkView{Name: c.Name, Level: string(c.Level), Meaning: c.Meaning, Remedy: c.Remedy, Example: strings.TrimRight(lines, "\n "), Said: strings.TrimSpace(said)}
}
