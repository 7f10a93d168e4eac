package checks

import (
	"net/url"
	"strings"
)

var unsafeAddress = Check{
	Name: "unsafe-address", Family: Prose, Level: Error,
	Meaning: "The text links to an address that a page may not follow: only http, https and mailto are, written out in full.",
	Example: `See [the mark](javascript:alert(1)).
→ "javascript:alert(1)" is not an address that pages may link to`,
	Remedy: "Write the whole address with https://, http:// or mailto:, or link to one of our records.",
	Run: func(p *Pass) {
		for _, e := range p.prose() {
			for _, l := range e.links {
				if _, _, ours := ourAddress(l.text); !ours && unsafe(l.text) {
					p.Report(Finding{Pos: l.pos, Width: l.width, Message: quote(l.text) + " is not an address that pages may link to"})
				}
			}
		}
	},
}

// unsafe says whether an address names a scheme or host that no page may
// follow. Addresses without either are dead-link's business.
func unsafe(address string) bool {
	u, err := url.Parse(strings.TrimSpace(address))
	if err != nil {
		return strings.Contains(address, ":")
	}
	switch strings.ToLower(u.Scheme) {
	case "":
		return u.Host != ""
	case "http", "https":
		return u.Host == ""
	case "mailto":
		return !strings.Contains(u.Opaque, "@")
	}
	return true
}
