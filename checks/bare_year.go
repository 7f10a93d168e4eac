package checks

import (
	"yearmark/schema"
	"yearmark/schema/edtf"
)

var bareYear = Check{
	Name: "bare-year", Family: Prose, Level: Warning,
	Meaning: "The text names a year that no claim of the page states and that stands in no link, so that readers cannot tell on whose word it is.",
	Example: `The socket came in 1966, after the move.
→ "1966" is no claim's and stands in no link`,
	Remedy: "Tie it to a claim or a source: [1966](claim:present-socket), [list of 1966, p. 2](source:list-1966).",
	Run: func(p *Pass) {
		horizon := p.Ref.Horizon()
		for _, e := range p.prose() {
			if len(e.years) == 0 {
				continue
			}
			stated := p.statedOn(e.record)
			for _, m := range e.years {
				if horizon.Has(m.year) && !stated[m.year] {
					p.Report(Finding{Pos: m.pos, Width: m.width, Message: quote(m.text) + " is no claim's and stands in no link"})
				}
			}
		}
	},
}

// statedOn gives the years that the record of a page states itself: where its
// spans begin and end, its sightings, its dates.
func (s *shared) statedOn(r schema.Record) map[int]bool {
	stated := map[int]bool{}
	span := func(e schema.Span) {
		if first, ok := e.Earliest(); ok {
			stated[first] = true
		}
		if last, ok := e.Latest(); ok {
			stated[last] = true
		}
		if e.Shape() == edtf.OneOf || e.Shape() == edtf.AllOf {
			for _, m := range s.Ref.Years(e).Members {
				stated[m] = true
			}
		}
	}
	claims := func(list []*schema.Claim) {
		for _, c := range list {
			span(c.Span)
			for _, a := range c.Attested {
				stated[a.Year.Value] = true
			}
		}
	}
	switch r := r.(type) {
	case *schema.Model:
		claims(r.Claims())
		claims(s.Ref.ClaimsOn(r))
		for _, o := range r.Output {
			span(o.Span)
		}
	case *schema.Maker:
		claims(r.Claims())
		for _, p := range r.People {
			span(p.Span)
		}
	case *schema.Source:
		span(r.Issued)
	case *schema.Example:
		span(r.Seen)
		if r.Documented != nil {
			span(r.Documented.Span)
		}
		for _, a := range r.Attributed {
			span(a.Span)
		}
		for _, h := range r.History {
			span(h.On)
		}
		for _, s := range r.Sales {
			span(s.On)
		}
	}
	return stated
}
