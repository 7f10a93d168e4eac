package linked

import (
	"fmt"

	"yearmark/schema/edtf"
)

// node is one thing of the graph.
type node map[string]any

// put adds a value, unless it is empty.
func (n node) put(term string, value any) {
	switch v := value.(type) {
	case string:
		if v == "" {
			return
		}
	case []string:
		if len(v) == 0 {
			return
		}
	case []node:
		if len(v) == 0 {
			return
		}
	case node:
		if v == nil {
			return
		}
	}
	n[term] = value
}

// timeSpan gives years as a time-span (CIDOC CRM E52), or nil where no year is possible.
func timeSpan(id string, y edtf.Years) node {
	if y.Empty() {
		return nil
	}
	n := node{
		"@type": "crm:E52_Time-Span", "rdfs:label": y.String(),
		"crm:P82a_begin_of_the_begin": firstInstant(y.A), "crm:P82b_end_of_the_end": lastInstant(y.D),
	}
	n.put("@id", id)
	if throughout(y) {
		n["crm:P81a_end_of_the_begin"], n["crm:P81b_begin_of_the_end"] = lastInstant(y.B), firstInstant(y.C)
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

func firstInstant(year int) string { return dateYear(year) + "-01-01T00:00:00Z" }

func lastInstant(year int) string { return dateYear(year) + "-12-31T23:59:59Z" }

// dateYear writes a year as XML Schema 1.1 does: four digits at least, a minus
// before the years before year 0.
func dateYear(year int) string {
	if year < 0 {
		return fmt.Sprintf("-%04d", -year)
	}
	return fmt.Sprintf("%04d", year)
}

// written gives an EDTF expression as a typed literal, or nil.
func written(e edtf.Expr) any {
	if e.IsZero() {
		return ""
	}
	return node{"@type": "edtf:EDTF", "@value": e.String()}
}
