package checks

import (
	"fmt"

	"yearmark/schema/edtf"
)

var eraGap = Check{
	Name: "era-gap", Family: Spans, Level: Note,
	Meaning: "A model's life is divided into eras, but some years in which it was surely made belong to none of them.",
	Example: `made: {span: 1958/1971, cites: ["list-1958, p. 2", "list-1971, p. 9"]}
eras:
  - {id: first, name: First pattern, span: 1958/1963, cites: ["list-1958, p. 2"]}
  - {id: second, name: Second pattern, span: 1965/1971, cites: ["list-1965, p. 6"]}
→ no era covers 1964`,
	Remedy: "Nothing need be wrong if the register does not know. Otherwise mend the eras' years or add the one that is missing.",
	Run: func(p *Pass) {
		for _, m := range p.Ref.Models.All() {
			if len(m.Eras) == 0 || m.Made == nil {
				continue
			}
			var covered []edtf.Range
			for _, era := range p.dated(m.Eras) {
				covered = append(covered, possibleYears(era.Years)...)
			}
			if gap := certainYears(p.yearsOf(m.Made)).without(tidy(covered)); len(gap) > 0 {
				p.Report(Finding{
					Pos: subjectPos(m.Eras[0]), Message: fmt.Sprintf("no era covers %s", gap),
					Why: []Place{p.side(m.Made)}, Claims: claimsOf(m.Made),
				})
			}
		}
	},
}
