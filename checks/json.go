package checks

import (
	"encoding/json"
	"io"
)

// jsonVersion changes when the form of the JSON does.
const jsonVersion = 1

type jsonReport struct {
	Version  int           `json:"version"`
	Findings []jsonFinding `json:"findings"`
	Counts   jsonCounts    `json:"counts"`
	LeftOut  []string      `json:"leftOut,omitempty"`
}

type jsonFinding struct {
	Check   string      `json:"check"`
	Level   Level       `json:"level"`
	File    string      `json:"file"`
	Line    int         `json:"line"`
	Column  int         `json:"column"`
	Message string      `json:"message"`
	Why     []jsonPlace `json:"why"`
	Help    string      `json:"help"`
	Follows string      `json:"follows,omitempty"` // the unread file that it most likely goes with
}

type jsonPlace struct {
	File     string   `json:"file"`
	Line     int      `json:"line"`
	Column   int      `json:"column"`
	Message  string   `json:"message"`
	Credence *float64 `json:"credence,omitempty"` // of the claim that stands there, from 0 to 1
}

type jsonCounts struct {
	Error   int `json:"error"`
	Warning int `json:"warning"`
	Note    int `json:"note"`
}

// JSON writes the findings for programs, in the documented form of version 1.
// Lines and columns count from 1, columns in characters; 0 where none is known.
func JSON(w io.Writer, r Report) error {
	out := jsonReport{Version: jsonVersion, Findings: make([]jsonFinding, len(r.Findings)), Counts: jsonCounts(r.Counts), LeftOut: r.LeftOut}
	for i, f := range r.Findings {
		why := make([]jsonPlace, len(f.Why))
		for j, p := range f.Why {
			why[j] = jsonPlace{p.Pos.File(), p.Pos.Line(), p.Pos.Column(), p.Message, p.Credence}
		}
		out.Findings[i] = jsonFinding{f.Check, f.Level, f.Pos.File(), f.Pos.Line(), f.Pos.Column(), f.Message, why, f.Help, f.Follows}
	}
	e := json.NewEncoder(w)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	return e.Encode(out)
}
