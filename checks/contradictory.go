package checks

import (
	"context"

	"yearmark/chronology"
	"yearmark/provenance"
	"yearmark/schema"
)

// Contradictory gives every two claims that cannot both be true, decided or not.
func Contradictory(ref *schema.Reference, t *chronology.Timeline) [][2]*schema.Claim {
	s := newShared(context.Background(), Input{Ref: ref, Timeline: t, Weighing: provenance.Weigh(ref)}, registry)
	var pairs [][2]*schema.Claim
	known := map[[2]*schema.Claim]bool{}
	for _, c := range s.allContradictions() {
		if len(c.claims) == 2 && len(c.orders) == 0 && c.claims[0] != c.claims[1] {
			pair := [2]*schema.Claim{c.claims[0], c.claims[1]}
			if at(pair[1]).Compare(at(pair[0])) < 0 {
				pair[0], pair[1] = pair[1], pair[0]
			}
			if !known[pair] {
				known[pair] = true
				pairs = append(pairs, pair)
			}
		}
	}
	return pairs
}
