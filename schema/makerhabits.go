package schema

import (
	"fmt"
	"slices"

	"yearmark/schema/edtf"
)

// SpecialOrders says of which features, and when, a maker took a customer's wish.
type SpecialOrders struct {
	Pos      Pos        `yaml:"-"`
	Features []Text     `yaml:"features" jsonschema:"required" jsonschema_description:"The features that customers could choose."`
	Span     Span       `yaml:"span" jsonschema_description:"The years, in EDTF; all of its trading where none are given."`
	Cites    []Citation `yaml:"cites" jsonschema_description:"Who says so."`
}

// SaysNothing is a feature that dates none of a maker's bows, and why.
type SaysNothing struct {
	Pos     Pos        `yaml:"-"`
	Feature Text       `yaml:"feature" jsonschema:"required" jsonschema_description:"The feature that says nothing."`
	Because Text       `yaml:"because" jsonschema:"required" jsonschema_description:"Why, in a sentence."`
	Cites   []Citation `yaml:"cites" jsonschema_description:"Who says so."`
}

// Took says whether the maker took special orders of a feature.
func (s *SpecialOrders) Took(feature string) bool {
	return s != nil && slices.ContainsFunc(s.Features, func(t Text) bool { return t.Value == feature })
}

// Years gives the years in which special orders were taken, within the trading.
func (s *SpecialOrders) Years(r *Reference, trading edtf.Range) edtf.Years {
	if s.Span.IsZero() {
		return edtf.OverRange(trading)
	}
	return s.Span.Years(edtf.Frame{Horizon: r.Horizon(), Made: trading, Circa: r.Settings.Judgement.Circa.Value})
}

// Mute gives what the maker's record says of a feature that dates none of its
// bows, or nil.
func (m *Maker) Mute(feature string) *SaysNothing {
	for _, s := range m.SaysNothing {
		if s.Feature.Value == feature {
			return s
		}
	}
	return nil
}

// habits ties what a maker's record says of whole features.
func (l *linker) habits(m *Maker) {
	if s := m.SpecialOrders; s != nil {
		for _, t := range s.Features {
			l.featureOf(t)
		}
	}
	first := map[string]Pos{}
	for _, s := range m.SaysNothing {
		l.featureOf(s.Feature)
		if at, twice := first[s.Feature.Value]; twice {
			l.report(CheckDuplicate, s.Feature.Pos, fmt.Sprintf("%q is said twice to say nothing", s.Feature.Value), "Delete one of the two.", Place{at, "the first is here"})
		}
		first[s.Feature.Value] = s.Feature.Pos
	}
}
