package provenance

import (
	"slices"

	"yearmark/schema"
)

// hearsayKinds are what somebody remembers or says where anybody may say it.
var hearsayKinds = []schema.SourceKind{schema.Recollection, schema.Web, schema.SaleListing}

// Hearsay says that citations go back to what somebody remembers, to pages of
// the web and sellers' listings, and to nothing else. It is false of no
// citation at all, and of a ring of sources that goes back to nothing.
func Hearsay(ref *schema.Reference, cites []schema.Citation) bool {
	return onlyOf(ref, cites, hearsayKinds...)
}

// OnlyRecollection says the same of what somebody remembers.
func OnlyRecollection(ref *schema.Reference, cites []schema.Citation) bool {
	return onlyOf(ref, cites, schema.Recollection)
}

func onlyOf(ref *schema.Reference, cites []schema.Citation, kinds ...schema.SourceKind) bool {
	h := &originKinds{ref: ref, kinds: kinds, seen: map[string]bool{}}
	for _, c := range cites {
		if !h.cited(c) {
			return false
		}
	}
	return h.some
}

// originKinds goes from sources to what they rely on, to each once, and says
// whether all origins are of some kinds.
type originKinds struct {
	ref   *schema.Reference
	kinds []schema.SourceKind
	seen  map[string]bool
	some  bool // an origin was met that is of the kinds
}

// cited says that nothing better stands behind a citation. Each place that it
// covers may be of another kind than its source, or copied from elsewhere.
func (h *originKinds) cited(c schema.Citation) bool {
	s, known := h.ref.Sources.Get(c.Source)
	if !known { // an example, which somebody examined, or a slip
		return false
	}
	places := s.PlacesAt(c.Place)
	for _, p := range places {
		kind, below := s.Kind, s.ReliesOn
		if p.Kind.Value != "" {
			kind = p.Kind
		}
		if p.Own.Value || len(p.ReliesOn) > 0 {
			below = p.ReliesOn
		}
		if !h.origin(kind.Value, below) {
			return false
		}
	}
	return len(places) > 0 || h.whole(c.Source)
}

// whole says that nothing better stands behind a source at large.
func (h *originKinds) whole(id string) bool {
	s, known := h.ref.Sources.Get(id)
	if !known || h.seen[id] {
		return known
	}
	h.seen[id] = true
	return h.origin(s.Kind.Value, s.ReliesOn)
}

// origin says it of a kind and of what was relied on.
func (h *originKinds) origin(kind string, below []schema.Text) bool {
	for _, b := range below {
		if !h.whole(b.Value) {
			return false
		}
	}
	if len(below) > 0 {
		return true
	}
	is := slices.Contains(h.kinds, schema.SourceKind(kind))
	h.some = h.some || is
	return is
}
