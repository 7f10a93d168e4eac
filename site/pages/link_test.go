package pages

import (
	"context"
	"strings"
	"testing"
)

// TestAddressesLeadSomewhere holds links to the schemes that only lead
// somewhere, and everything in them to be escaped.
func TestAddressesLeadSomewhere(t *testing.T) {
	for given, want := range map[string]string{
		"models/plover.html#a": "models/plover.html#a", "../x?y=1&z=2": "../x?y=1&amp;z=2", "#a:b": "#a:b", "date.html#ask=a:b": "date.html#ask=a:b",
		"https://example.org/": "https://example.org/", "mailto:a@example.org": "mailto:a@example.org", `x"y`: "x%22y", "x#<%= 1 %> y": "x#%3C%25=%201%20%25%3E%20y", "x%20y": "x%20y",
		"javascript:x": "#unsafe", "JavaScript:x": "#unsafe", " javascript:x": "#unsafe", "java\nscript:x": "#unsafe", "a:b": "#unsafe", "ftp://example.org/": "#unsafe", "tel:1": "#unsafe", "data:text/html,x": "#unsafe",
	} {
		var b strings.Builder
		if err := link(given, "<words>").Render(context.Background(), &b); err != nil {
			t.Fatal(err)
		}
		if got := b.String(); got != `<a href="`+want+`">&lt;words&gt;</a>` {
			t.Errorf("%q becomes %s, want %s", given, got, want)
		}
	}
}
