package search

import (
	"encoding/json"
	"fmt"
	"io"
	"strings"
)

// WriteText writes a result for people to read on a terminal.
func WriteText(out io.Writer, q Query, r Result) error {
	var b strings.Builder
	for _, c := range r.Corrected {
		fmt.Fprintf(&b, "nothing has %q; searched for %s\n", c.Word, strings.Join(c.Used, ", "))
	}
	if len(r.Ignored) > 0 {
		fmt.Fprintf(&b, "the question is long; left out %s\n", strings.Join(r.Ignored, ", "))
	}
	if r.Total == 0 {
		b.WriteString("nothing found\n")
		if len(r.Near) > 0 {
			fmt.Fprintf(&b, "near words: %s\n", strings.Join(r.Near, ", "))
		}
	}
	for _, h := range r.Hits {
		fmt.Fprintf(&b, "%-8s %s\n", h.Kind, h.Title)
		if h.About != "" {
			fmt.Fprintf(&b, "         %s\n", h.About)
		}
		fmt.Fprintf(&b, "         %s\n", h.Address)
		for _, c := range h.Claims {
			fmt.Fprintf(&b, "         %s%s by %s\n", c.Feature, c.When, c.Address)
		}
	}
	if last := q.Offset + len(r.Hits); len(r.Hits) > 0 {
		fmt.Fprintf(&b, "%d to %d of %d\n", q.Offset+1, last, r.Total)
	}
	_, err := io.WriteString(out, b.String())
	return err
}

// jsonVersion is the version of the JSON form.
const jsonVersion = 1

// jsonResult is the documented JSON form of a result.
type jsonResult struct {
	Version int       `json:"version"`
	Number  any       `json:"number,omitempty"`
	Total   int       `json:"total"`
	Hits    []jsonHit `json:"hits"`
}

type jsonHit struct {
	Kind    string  `json:"kind"`
	ID      string  `json:"id"`
	Title   string  `json:"title"`
	Address string  `json:"address"`
	Score   float64 `json:"score"`
}

// WriteJSON writes a result as version 1 of its JSON form. number is what is
// recorded of a question that is a number, or nil.
func WriteJSON(out io.Writer, r Result, number any) error {
	j := jsonResult{Version: jsonVersion, Number: number, Total: r.Total, Hits: make([]jsonHit, len(r.Hits))}
	for i, h := range r.Hits {
		j.Hits[i] = jsonHit{h.Kind, h.ID, h.Title, h.Address, h.Score}
	}
	encoder := json.NewEncoder(out)
	encoder.SetIndent("", "  ")
	encoder.SetEscapeHTML(false)
	return encoder.Encode(j)
}
