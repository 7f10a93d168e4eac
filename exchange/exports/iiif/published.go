package iiif

import (
	"slices"
	"time"

	"yearmark/schema"
)

// Scan is a scan as it is published.
type Scan struct {
	Width, Height int    // of the upright original, in pixels or in a drawing's units
	Sizes         []Size // the published pictures, narrowest first
}

// Size is one published picture of a scan.
type Size struct {
	Path          string // below the site's root
	Width, Height int
}

// Recording is a recording as it is published.
type Recording struct {
	Path   string // below the site's root
	Length time.Duration
}

// Published tells what of sources is published, and where. A function is nil
// where nothing is.
type Published struct {
	Scans      func(*schema.SourcePlace) (s Scan, ok bool)
	Recordings func(*schema.Source) (r Recording, ok bool)
}

// Scan gives the scan of a place; ok is false where none is shown or its size is not known.
func (p Published) Scan(place *schema.SourcePlace) (s Scan, ok bool) {
	if p.Scans == nil {
		return s, false
	}
	return p.Scans(place)
}

// Recording gives the recording of a source; ok is false where none can be heard
// or its length is not known.
func (p Published) Recording(s *schema.Source) (r Recording, ok bool) {
	if p.Recordings == nil {
		return r, false
	}
	return p.Recordings(s)
}

// CollectionPath is where the collection stands below the site's root, and
// ManifestPath where the manifest of a source does.
const CollectionPath = folder + "collection.json"

const folder = "data/iiif/"

// ManifestPath is where the manifest of a source stands below the site's root.
func ManifestPath(s *schema.Source) string { return folder + "sources/" + s.ID + ".json" }

// Sources gives the sources that have a manifest, as the reference orders them.
func (p Published) Sources(ref *schema.Reference) []*schema.Source {
	var list []*schema.Source
	for _, s := range ref.Sources.All() {
		if p.Shows(s) {
			list = append(list, s)
		}
	}
	return list
}

// Shows says that a source has a manifest: that a scan or a recording of it is published.
func (p Published) Shows(s *schema.Source) bool {
	if s.MayShow() != schema.ShowsAll {
		return false
	}
	scanned := slices.ContainsFunc(s.Places, func(place *schema.SourcePlace) bool {
		_, ok := p.Scan(place)
		return ok
	})
	if scanned {
		return true
	}
	_, recorded := p.Recording(s)
	return recorded
}
