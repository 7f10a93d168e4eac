package checks

import "yearmark/schema"

var keptBackPicture = Check{
	Name: "kept-back-picture", Family: Pictures, Level: Warning,
	Meaning: "A picture is shown that is also the scan of a source whose pages may not be shown. It is left out everywhere.",
	Example: `![Page 2](pictures/scans/p2.svg)
→ "scans/p2.svg" is a scan that its source keeps back`,
	Remedy: "Write shown: all in the source, with rights:, if its pages may be shown; else show another picture.",
	Run: func(p *Pass) {
		kept := p.Ref.ScansKeptBack()
		for _, m := range p.namedPictures() {
			if kept[m.below] && m.below != "" && !m.scan {
				at := p.keptBackAt(m.below)
				p.Report(Finding{Pos: m.pos, Width: m.width, Message: quote(m.below) + " is a scan that its source keeps back", Why: []Place{{Pos: at, Message: "it is a scan here"}}})
			}
		}
	},
}

// keptBackAt is where a source that keeps its scans back names a picture.
func (s *shared) keptBackAt(below string) schema.Pos {
	for _, source := range s.Ref.Sources.All() {
		for _, place := range source.Places {
			if place.Scan.Value == below && source.MayShow() != schema.ShowsAll {
				return place.Scan.Pos
			}
		}
	}
	return schema.Pos{}
}
