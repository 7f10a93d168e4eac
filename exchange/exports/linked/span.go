package linked

import (
	"fmt"
	"strconv"

	"yearmark/schema"
	"yearmark/schema/edtf"
)

// timeSpan gives years as a time-span (CIDOC CRM E52), and what they follow from
// where they are of a claim and derived; nil where no year is possible.
func (g *graph) timeSpan(id iri, y edtf.Years, of *schema.Claim) *timeSpan {
	if y.Empty() {
		return nil
	}
	n := &timeSpan{ID: id, Type: []string{"crm:E52_Time-Span"}, Label: y.String(), StartFirst: firstInstant(y.A), EndLast: lastInstant(y.D)}
	if throughout(y) {
		n.StartLast, n.EndFirst = lastInstant(y.B), firstInstant(y.C)
	}
	if of != nil && g.Timeline.Derived(of) {
		n.Type, n.DerivedFrom = append(n.Type, "prov:Entity"), g.grounds(of)
	}
	return n
}

// throughout says that there is a stretch throughout which it surely held: from
// the last instant of the latest start to the first instant of the earliest
// end, without gaps between.
func throughout(y edtf.Years) bool {
	if y.B >= y.C || y.Choice == edtf.OneOf {
		return false
	}
	runs := y.CertainRuns()
	return len(runs) == 1 && runs[0] == edtf.Range{First: y.B, Last: y.C}
}

func firstInstant(year int) instant { return instant(dateYear(year) + "-01-01T00:00:00Z") }

func lastInstant(year int) instant { return instant(dateYear(year) + "-12-31T23:59:59Z") }

// dateYear writes a year as XML Schema 1.1 does: four digits at least, a minus
// before the years before year 0.
func dateYear(year int) string {
	if year >= 1000 {
		return strconv.Itoa(year)
	}
	if year < 0 {
		return fmt.Sprintf("-%04d", -year)
	}
	return fmt.Sprintf("%04d", year)
}
