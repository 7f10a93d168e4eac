package pages

import "strings"

// anchor is a link and its words.
type anchor struct{ Href, Text string }

// address gives an address that may stand in a page: relative, or of a scheme
// that only leads somewhere. Any other becomes "#unsafe".
func address(s string) string {
	scheme, _, found := strings.Cut(s, ":")
	if !found || strings.ContainsAny(scheme, "/?#") {
		return s
	}
	switch strings.ToLower(scheme) {
	case "http", "https", "mailto":
		return s
	}
	return "#unsafe"
}
