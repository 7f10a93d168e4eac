package dating

import (
	"fmt"
	"slices"
	"strings"

	"yearmark/schema"
	"yearmark/schema/edtf"
)

// wishes is when makers took special orders, by the hypothesis and the identifier
// of the feature.
type wishes map[wish]edtf.Years

type wish struct {
	bow     int
	feature string
}

// wishes reads when the maker of each bow took special orders.
func (in inputs) wishes() wishes {
	all := wishes{}
	for m, bow := range in.bows {
		maker := bow.maker
		if bow.model != nil {
			maker, _ = in.ref.Makers.Get(bow.model.Maker.Value)
		}
		if maker == nil || maker.SpecialOrders == nil || in.skipsAll(maker.SpecialOrders.Cites) {
			continue
		}
		trading := in.times.Trading(maker)
		years := maker.SpecialOrders.Years(in.ref, edtf.Range{First: trading.A, Last: trading.D})
		for _, f := range maker.SpecialOrders.Features {
			all[wish{m, f.Value}] = years
		}
	}
	return all
}

// skipsAll says whether something rests only on citations that are left out.
func (in inputs) skipsAll(cites []schema.Citation) bool {
	return in.skip != nil && len(cites) > 0 && !slices.ContainsFunc(cites, func(by schema.Citation) bool { return !in.skip(by) })
}

// wishesFor gives the years in which customers could choose a feature of a bow; of
// most there are none.
func (e *Engine) wishesFor(bow, feature int) edtf.Years {
	if years, some := e.wishes[wish{bow, e.features[feature].ID}]; some {
		return years
	}
	return edtf.Years{A: 1}
}

// loosened gives the rates of a year that is with the chance wished one of special
// orders: what is held more strictly is then held loosely.
func (r Rates) loosened(wished, loose float64) Rates {
	if loose > r.Looseness {
		r.Looseness += float64(wished * (loose - r.Looseness))
	}
	return r
}

// SpecialOrders says that a maker took special orders of a feature, when and on
// whose word; of most it says nothing. A sentence.
func (e *Engine) SpecialOrders(maker, feature string) string {
	if e.ref == nil {
		return ""
	}
	m, known := e.ref.Makers.Get(maker)
	if !known || !m.SpecialOrders.Took(feature) {
		return ""
	}
	f, known := e.ref.Features.Get(feature)
	if !known {
		return ""
	}
	words := fmt.Sprintf("%s took special orders for %s", m.Title(), schema.Lowered(f.Title()))
	if span := m.SpecialOrders.Span; !span.IsZero() {
		if first, _, open := strings.Cut(span.String(), "/"); open && strings.Trim(span.String()[len(first)+1:], ".") == "" {
			words += " from " + first
		} else {
			words += ", " + span.Words()
		}
	}
	if by := sourceNames(e.ref, m.SpecialOrders.Cites); by != "" {
		words += " (" + by + ")"
	}
	return words + "."
}

// specialOrders says of which makers' bows that are left without a feature the
// feature may be a special order.
func (e *Engine) specialOrders(w Without) []string {
	list := []string{}
	for _, left := range w.Years {
		maker := left.Maker
		if e.ref != nil {
			if m, known := e.ref.Models.Get(left.Model); known {
				maker = m.Maker.Value
			}
		}
		if words := e.SpecialOrders(maker, w.Feature); words != "" && !slices.Contains(list, words) {
			list = append(list, words)
		}
	}
	return list
}
