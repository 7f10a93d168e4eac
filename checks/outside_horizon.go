package checks

import (
	"fmt"

	"yearmark/schema"
	"yearmark/schema/edtf"
)

var outsideHorizon = Check{
	Name: "outside-horizon", Family: Spans, Level: Error,
	Meaning: "A claim's years lie outside the years that reference.yaml gives as the horizon within which anything can fall.",
	Example: `# reference.yaml says years: 1930/1985
{feature: riser-wood, value: padauk, span: 1995, cites: ["list-1965, p. 6"]}
→ "1995" lies outside the horizon of 1930–1985`,
	Remedy: "Mend the years, or widen years: in reference.yaml.",
	Run: func(p *Pass) {
		horizon := p.Ref.Horizon()
		for c := range p.claims {
			p.beyond(c.Span, horizon)
			for _, a := range c.Attested {
				if !a.Year.Pos.IsZero() && !horizon.Has(a.Year.Value) {
					p.reportBeyond(a.Year.Pos, fmt.Sprint(a.Year.Value), horizon)
				}
			}
		}
		for _, e := range p.Ref.Examples.All() {
			if e.Documented != nil {
				p.beyond(e.Documented.Span, horizon)
			}
		}
		for _, m := range p.Ref.Models.All() {
			for _, o := range m.Output {
				p.beyond(o.Span, horizon)
			}
		}
	},
}

func (p *Pass) beyond(span schema.Span, horizon edtf.Range) {
	first, begins := span.Earliest()
	last, ends := span.Latest()
	if begins && first < horizon.First || ends && last > horizon.Last || begins && first > horizon.Last || ends && last < horizon.First {
		p.reportBeyond(span.Pos, span.String(), horizon)
	}
}

func (p *Pass) reportBeyond(pos schema.Pos, written string, horizon edtf.Range) {
	p.Report(Finding{
		Pos: pos, Message: fmt.Sprintf("%s lies outside the horizon of %d–%d", quote(written), horizon.First, horizon.Last),
		Why: []Place{{Pos: p.Ref.Settings.Years.Pos, Message: fmt.Sprintf("the reference covers %d–%d", horizon.First, horizon.Last)}},
	})
}
