package checks

import (
	"fmt"

	"yearmark/schema"
)

// comingSeason is how far ahead a source can speak: lists are printed for the
// season to come.
const comingSeason = 1

var sourceTooEarly = Check{
	Name: "source-too-early", Family: Provenance, Level: Error,
	Meaning: "A source is cited for years that lie more than one year after it was issued; what is printed can speak of the coming season, not of later ones.",
	Example: `# sources/list-1965.md says issued: 1965
{feature: riser-wood, value: padauk, span: 1967/1971, cites: ["list-1965, p. 6"]}
→ "list-1965" of 1965 is cited for years from 1967`,
	Remedy: "Check both dates: cite the source that was meant, or mend the span, or the year of issue in the source's record.",
	Run: func(p *Pass) {
		for c := range p.claims {
			if first, known := p.firstYear(c); known {
				p.tooEarly(c.Cites, first, c)
			}
			for _, a := range c.Attested {
				if !a.Year.Pos.IsZero() {
					p.tooEarly(a.Cites, a.Year.Value, c)
				}
			}
		}
		for _, e := range p.Ref.Examples.All() {
			if e.Documented == nil {
				continue
			}
			if first, known := e.Documented.Span.Earliest(); known {
				p.tooEarly(e.Documented.Cites, first, nil)
			}
		}
	},
}

// firstYear is the first year that a claim's span, or its era's, can begin
// with as written.
func (s *shared) firstYear(c *schema.Claim) (int, bool) {
	span := c.Span
	if c.Era.Value != "" && c.Model != nil {
		if era, known := c.Model.Claim("era-" + c.Era.Value); known {
			span = era.Span
		}
	}
	if _, written := span.Earliest(); !written {
		return 0, false
	}
	return s.Ref.Years(span).A, true
}

// tooEarly reports the sources that were issued more than a season before the
// first year they are cited for.
func (p *Pass) tooEarly(cites []schema.Citation, first int, claim *schema.Claim) {
	for _, c := range cites {
		source, known := p.Ref.Sources.Get(c.Source)
		if !known {
			continue
		}
		last, known := source.Issued.Latest()
		if !known || last+comingSeason >= first {
			continue
		}
		p.Report(Finding{
			Pos: c.Pos, Claims: claimsOf(claim),
			Message: fmt.Sprintf("%s of %s is cited for years from %d", quote(c.Source), source.Issued, first),
			Why:     []Place{{Pos: source.Issued.Pos, Message: fmt.Sprintf("%s was issued in %s", source.Title(), source.Issued)}},
		})
	}
}
