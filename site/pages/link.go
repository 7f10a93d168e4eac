package pages

import (
	"strings"

	"github.com/a-h/templ"
	"github.com/yuin/goldmark/util"
)

// anchor is a link and its words.
type anchor struct{ Href, Text string }

// address gives an address that may stand in a page: relative, or of a scheme
// that only leads somewhere. Any other becomes "#unsafe"; what may not stand in
// an address as it is gets escaped by its percents. templ's own rule would let
// more schemes through, and refuse a fragment with a colon in it.
func address(s string) templ.SafeURL {
	s = string(util.URLEscape([]byte(s), false))
	scheme, _, found := strings.Cut(s, ":")
	if !found || strings.ContainsAny(scheme, "/?#") {
		return templ.SafeURL(s)
	}
	switch strings.ToLower(scheme) {
	case "http", "https", "mailto":
		return templ.SafeURL(s)
	}
	return "#unsafe"
}

// separator is the sign before all entries of a list in one line but the first.
func separator(i int, sign string) string {
	if i == 0 {
		return ""
	}
	return sign
}
