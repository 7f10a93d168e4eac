package checks

import (
	"fmt"

	"yearmark/schema"
	"yearmark/schema/edtf"
)

var documentedOutside = Check{
	Name: "documented-outside", Family: Examples, Level: Warning, needsDater: true,
	Meaning: "An example's documented year is none of the years in which all that was observed on it can be true: the paper belongs to another bow, a part was replaced, or a claim is wrong.",
	Example: `# its riser is of padauk, which the model had from 1958 to 1963
documented: {span: 1970, cites: [letter-aldous]}
→ documented as 1970, but its features allow only 1958–1963`,
	Remedy: "Check the paper and the features. If both are right, one of the claims about these features is too narrow.",
	Run: func(p *Pass) {
		for i, e := range p.Ref.Examples.All() {
			if v := p.verdicts()[i]; v.Dated && len(v.Years) > 0 {
				p.documented(e, v.Years, "documented as %s, but its features allow only %s")
			}
		}
	},
}

// documented reports an example none of whose documented years is among those
// that the engine gives.
func (p *Pass) documented(e *schema.Example, given []int, message string) {
	if e.Documented == nil {
		return
	}
	said := possibleYears(p.Ref.Years(e.Documented.Span))
	allowed := yearsOf(given)
	if len(said) == 0 || len(said.with(allowed)) > 0 {
		return
	}
	p.Report(Finding{
		Pos: e.Documented.Span.Pos, Message: fmt.Sprintf(message, said, allowed),
		Why: []Place{{Pos: e.Documented.Pos, Message: fmt.Sprintf("%s %s", p.says(e.Documented.Cites), said)}},
	})
}

func yearsOf(list []int) years {
	runs := make([]edtf.Range, len(list))
	for i, y := range list {
		runs[i] = edtf.Range{First: y, Last: y}
	}
	return tidy(runs)
}
