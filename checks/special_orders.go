package checks

import (
	"fmt"

	"yearmark/schema"
)

// wished tells that the maker took special orders of a feature when it is part of
// what does not fit.
func (s *shared) wished(makerID, feature string) []Place {
	maker, known := s.Ref.Makers.Get(makerID)
	if !known || !maker.SpecialOrders.Took(feature) {
		return nil
	}
	o := maker.SpecialOrders
	years := ""
	if !o.Span.IsZero() {
		years = " for " + o.Span.Words()
	}
	return []Place{{Pos: o.Pos, Message: fmt.Sprintf("%s that %s took special orders of %s%s", s.says(o.Cites), maker.Title(), s.featureName(feature), years)}}
}

// makerOf gives the identifier of the maker that a claim is about.
func makerOf(c *schema.Claim) string {
	if c.Maker != nil {
		return c.Maker.ID
	}
	return c.Model.Maker.Value
}
