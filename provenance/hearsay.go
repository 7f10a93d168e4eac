package provenance

import "yearmark/schema"

// Hearsay says that citations go back to what somebody remembers, to pages of
// the web, or to both, and to nothing else. It is false of no citation at all,
// and of a ring of sources that goes back to nothing.
func Hearsay(ref *schema.Reference, cites []schema.Citation) bool {
	h := &hearsay{ref: ref, seen: map[string]bool{}}
	for _, c := range cites {
		if !h.only(c.Source) {
			return false
		}
	}
	return h.some
}

// hearsay goes from sources to what they rely on, to each once.
type hearsay struct {
	ref  *schema.Reference
	seen map[string]bool
	some bool // an origin was met that is hearsay
}

// only says that nothing better stands behind a source.
func (h *hearsay) only(id string) bool {
	s, known := h.ref.Sources.Get(id)
	switch {
	case h.seen[id]:
		return true
	case !known: // an example, which somebody examined, or a slip
		return false
	}
	h.seen[id] = true
	for _, below := range s.ReliesOn {
		if !h.only(below.Value) {
			return false
		}
	}
	if len(s.ReliesOn) > 0 {
		return true
	}
	kind := schema.SourceKind(s.Kind.Value)
	h.some = h.some || kind == schema.Recollection || kind == schema.Web
	return kind == schema.Recollection || kind == schema.Web
}
