package provenance

import (
	"slices"

	"yearmark/schema"
)

// reliance is the way back from sources to all that rests on them.
type reliance struct {
	claims, against map[string][]*schema.Claim
	sources         map[string][]*schema.Source
}

func newReliance(ref *schema.Reference) *reliance {
	r := &reliance{claims: map[string][]*schema.Claim{}, against: map[string][]*schema.Claim{}, sources: map[string][]*schema.Source{}}
	for c := range ref.Claims() {
		note(r.claims, c, c.Citations())
		note(r.against, c, c.Against)
	}
	for _, s := range ref.Sources.All() {
		for _, name := range reliances(s) {
			if list := r.sources[name.Value]; len(list) == 0 || list[len(list)-1] != s {
				r.sources[name.Value] = append(list, s)
			}
		}
	}
	return r
}

// reliances gives all that a source relies on, as a whole or at one of its places.
func reliances(s *schema.Source) []schema.Text {
	all := s.ReliesOn[:len(s.ReliesOn):len(s.ReliesOn)]
	for _, place := range s.Places {
		all = append(all, place.ReliesOn...)
	}
	return all
}

// note enters c under each source cited, once.
func note(by map[string][]*schema.Claim, c *schema.Claim, cites []schema.Citation) {
	for _, cite := range cites {
		if list := by[cite.Source]; len(list) == 0 || list[len(list)-1] != c {
			by[cite.Source] = append(list, c)
		}
	}
}

// DependsOn gives the claims that cite a source, or an example as "example-ID",
// in their favour: those of models by identifier, then those of makers. What
// reaches it only through other sources is theirs; see ReliedOnBy.
func (w *Weighing) DependsOn(id string) []*schema.Claim { return slices.Clone(w.reliance().claims[id]) }

// SpeaksAgainst gives the claims that cite a source or example against themselves.
func (w *Weighing) SpeaksAgainst(id string) []*schema.Claim {
	return slices.Clone(w.reliance().against[id])
}

// ReliedOnBy gives the sources that rely on this one directly, as a whole or at
// one of their places, by name.
func (w *Weighing) ReliedOnBy(id string) []*schema.Source {
	return slices.Clone(w.reliance().sources[id])
}
