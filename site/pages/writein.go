package pages

import "net/url"

// writeInView is where a visitor writes what they know.
type writeInView struct {
	Base    base
	Name    string // of the reference
	Edition string
}

// writeInPath is the page on which a visitor writes what they know.
const writeInPath = "write-in.html"

func (p *page) writeIn() writeInView {
	v := writeInView{p.base("I know something about this", "Write to the register's editor: what you know, and where it stands.", ""), p.ref.Settings.Name.Value, p.facts.Edition.String()}
	v.Base.Scripts = scripts("write-in.js")
	return v
}

// writeInOn leads to that page with an address of the site in mind.
func (p *page) writeInOn(address string) string {
	return p.to(writeInPath) + "#about=" + url.QueryEscape(address)
}
