package pages

import (
	"strings"
)

// dataView lists the files for those who reuse the data.
type dataView struct {
	Base    base
	Licence string
	Address string
	Dating  string // the way to the dating tables' manifest, or empty
	Search  string
	Files   []dataLine
}

// dataLine is one file and what it holds.
type dataLine struct {
	anchor
	About string
}

func (p *page) data() dataView {
	v := dataView{
		Base:    p.base("Data", "The register as data: what is where, and under which licence.", ""),
		Licence: p.ref.Settings.Licence.Value, Address: p.ref.Settings.PublicURL.Value,
		Dating: p.datingManifest(), Search: p.searchRoot(),
	}
	for _, f := range p.Site.data() {
		if f.About == "" {
			continue
		}
		v.Files = append(v.Files, dataLine{anchor{p.to(f.Name), strings.TrimPrefix(f.Name, "data/")}, f.About})
	}
	return v
}
