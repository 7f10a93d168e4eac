package linked

import (
	"fmt"
	"strconv"

	"yearmark/schema"
	"yearmark/schema/edtf"
)

// timeSpan writes years as a time-span (CIDOC CRM E52), unless no year is
// possible, and what they follow from where they are of a claim and derived.
func (g *graph) timeSpan(id string, y edtf.Years, of *schema.Claim) {
	if y.Empty() {
		return
	}
	g.open("crm:P4_has_time-span")
	g.put("@id", id)
	derived := of != nil && g.timeline.Derived(of)
	if derived {
		g.list("@type", "crm:E52_Time-Span", "prov:Entity")
	} else {
		g.put("@type", "crm:E52_Time-Span")
	}
	g.put("rdfs:label", y.String())
	g.put("crm:P82a_begin_of_the_begin", firstInstant(y.A))
	if throughout(y) {
		g.put("crm:P81a_end_of_the_begin", lastInstant(y.B))
		g.put("crm:P81b_begin_of_the_end", firstInstant(y.C))
	}
	g.put("crm:P82b_end_of_the_end", lastInstant(y.D))
	if derived {
		g.grounds(of)
	}
	g.close()
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

func firstInstant(year int) string { return dateYear(year) + "-01-01T00:00:00Z" }

func lastInstant(year int) string { return dateYear(year) + "-12-31T23:59:59Z" }

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

// written writes an EDTF expression, if there is one, as a typed literal.
func (g *graph) written(term string, e edtf.Expr) {
	if e.IsZero() {
		return
	}
	g.open(term)
	g.put("@type", "edtf:EDTF")
	g.put("@value", e.EDTF())
	g.close()
}
