package pages

import (
	"testing"

	"yearmark/schema"
)

// TestNotFoundKnowsWhereTheSiteStands: whatever address a host shows the page
// at, its links lead to the site's own pages.
func TestNotFoundKnowsWhereTheSiteStands(t *testing.T) {
	for public, root := range map[string]string{"": "/", "https://bows.example.org": "/", "https://club.example.org/bows/": "/bows/"} {
		ref := &schema.Reference{}
		ref.Settings.PublicURL.Value = public
		s := &Site{ref: ref, reading: func() []anchor { return nil }}
		if got := s.page(notFoundPath).notFound().Base.Root; got != root {
			t.Errorf("at %q the links begin with %q, want %q", public, got, root)
		}
	}
}
