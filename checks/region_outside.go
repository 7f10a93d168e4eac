package checks

var regionOutside = Check{
	Name: "region-outside", Family: Pictures, Level: Error, needsFiles: true,
	Meaning: "A region lies outside its scan, in part or whole. Pixels are counted on the picture held upright, a drawing's in the units of its viewBox.",
	Example: `{at: p. 2, says: "Risers of padauk", scan: scans/p2.svg, region: "xywh=pixel:20,10,90,30"}
→ the region reaches beyond "scans/p2.svg", which has 100 by 60 pixels`,
	Remedy: "Measure left, top, width and height again on the picture as it is now, or give them in per cent.",
	Run: func(p *Pass) {
		sizes := map[string]picture{}
		for _, m := range p.pictures() {
			sizes[m.below] = m
		}
		for _, s := range p.Ref.Sources.All() {
			for _, place := range s.Places {
				m, known := sizes[place.Scan.Value]
				if !known || place.Region.IsZero() || m.fault != "" {
					continue
				}
				if m.width == 0 {
					p.Reportf(place.Region.Pos, "a region is given of %s, whose size is not known", quote(m.below))
				} else if _, within := place.Region.Within(m.width, m.height); !within {
					p.Reportf(place.Region.Pos, "the region reaches beyond %s, which has %d by %d pixels", quote(m.below), m.width, m.height)
				}
			}
		}
	},
}
