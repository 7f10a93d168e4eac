package checks

import (
	"cmp"
	"slices"

	"yearmark/schema"
)

// mostPairs bounds what is reported of one feature on one model, so that a record
// that is wrong throughout does not drown the others.
const mostPairs = 50

// certainPairs yields every pair of lives that may be at odds and that both hold
// for certain in some year, with the years they share, those that begin first
// before the others. Claims whose conditions cannot hold together are not. may is asked of every pair that meets: of thousands of
// claims alike these are millions, and it should cost little.
func (s *shared) certainPairs(dated []datedClaim, may func(a, b *datedClaim) bool, yield func(a, b datedClaim, shared years) bool) {
	if len(dated) < 2 {
		return
	}
	certain := make([]datedClaim, 0, len(dated))
	for _, l := range dated {
		if !l.Empty() && l.B <= l.C {
			certain = append(certain, l)
		}
	}
	slices.SortStableFunc(certain, func(a, b datedClaim) int { return cmp.Compare(a.B, b.B) })
	reported := 0
	for i := range certain {
		a := &certain[i]
		for j := i + 1; j < len(certain) && certain[j].B <= a.C; j++ {
			b := &certain[j]
			if a.lent && b.lent || !may(a, b) || !s.Ref.CanHoldTogether(a.Claim.When, b.Claim.When) { // two of the maker's are told once, of the maker
				continue
			}
			both := certainYears(a.Years).with(certainYears(b.Years))
			if len(both) == 0 || !yield(*a, *b, both) {
				continue
			}
			if reported++; reported == mostPairs {
				return
			}
		}
	}
}

// sameValue says whether two claims of one feature state the same.
func sameValue(a, b *schema.Claim) bool {
	if a.About != b.About {
		return false
	}
	if a.About == schema.AboutSpec {
		return a.Range.Low == b.Range.Low && a.Range.High == b.Range.High && a.Range.Unit == b.Range.Unit
	}
	return a.Value.Value == b.Value.Value
}
