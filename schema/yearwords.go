package schema

import (
	"slices"

	"yearmark/schema/edtf"
)

// YearsInWords gives what years in plain words may mean in this reference, as
// edtf.FromWords does. A year of two digits is of each century in which it falls
// within the horizon; one that does so in none is also of the century after, as
// that of a talk on old bows may be.
func (r *Reference) YearsInWords(text string) []edtf.Offer {
	horizon := r.Horizon()
	var within, all []edtf.Offer
	for century := horizon.First / 100; century <= horizon.Last/100+1; century++ {
		for _, offer := range edtf.FromWords(text, century) {
			e, err := edtf.Parse(offer.Write)
			if err != nil || slices.Contains(all, offer) {
				continue
			}
			all = append(all, offer)
			if r.Years(Span{Expr: e}).Overlaps(edtf.OverRange(horizon)) {
				within = append(within, offer)
			}
		}
	}
	if len(within) > 0 {
		return within
	}
	return all
}
