package checks

import (
	"yearmark/provenance"
	"yearmark/schema"
)

var recollectionOnly = Check{
	Name: "recollection-only", Family: Provenance, Level: Note,
	Meaning: "All that speaks for a claim goes back to what somebody remembers.",
	Example: `{feature: riser-wood, value: padauk, span: 1958/1971, cites: [talk-aldous]}
→ riser wood "padauk" rests on recollection alone`,
	Remedy: "Nothing need be wrong. Look for a list, an advertisement or a dated bow that bears it out.",
	Run: func(p *Pass) {
		for c := range p.claims {
			if p.citesMore(c) {
				continue
			}
			if list := p.Weighing.Of(c).For; len(list) > 0 && all(list, isRecollection) {
				p.Report(Finding{Pos: subjectPos(c), Message: p.what(c) + " rests on recollection alone", Claims: claimsOf(c)})
			}
		}
	},
}

// citesMore says whether a claim cites an origin that is no recollection; it
// spares most claims the weighing.
func (s *shared) citesMore(c *schema.Claim) bool {
	for _, cite := range citations(c) {
		source, known := s.Ref.Sources.Get(cite.Source)
		if known && len(source.ReliesOn) == 0 && source.Kind.Value != string(schema.Recollection) {
			return true
		}
	}
	return false
}

func isRecollection(w provenance.Witness) bool {
	if w.Origin.Source != nil {
		return w.Origin.Source.Kind.Value == string(schema.Recollection)
	}
	return len(w.Origin.Ring) > 0 && all(w.Origin.Ring, func(s *schema.Source) bool { return s.Kind.Value == string(schema.Recollection) })
}

func all[T any](list []T, is func(T) bool) bool {
	for _, x := range list {
		if !is(x) {
			return false
		}
	}
	return true
}
