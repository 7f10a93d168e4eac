package search

import (
	"strings"

	"yearmark/schema"
)

// variants gives the words by which people ask for a sign that no keyboard has.
var variants = map[string]string{
	"•": "dot", "·": "dot", ".": "dot", "●": "dot", "*": "star", "★": "star", "☆": "star",
	"+": "plus cross", "×": "cross", "-": "dash", "–": "dash", "/": "stroke", "'": "tick", "°": "ring",
}

// markLines says what a maker's signs beside a stamped draw weight mean, one line a sign.
func markLines(list []*schema.WeightMarks) []string {
	var lines []string
	for _, m := range list {
		for _, s := range m.Before {
			lines = append(lines, markLine(s, "before"))
		}
		for _, s := range m.After {
			lines = append(lines, markLine(s, "after"))
		}
		if runs := m.RunsWords(); runs != "" {
			lines = append(lines, runs+" the stamped draw weight, weight mark")
		}
	}
	return lines
}

func markLine(s schema.MarkSign, where string) string {
	return strings.Join([]string{variants[s.Sign.Value], s.Sign.Value, where, "beside the stamped draw weight, weight mark"}, " ")
}
