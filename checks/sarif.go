package checks

import (
	"encoding/json"
	"io"
	"net/url"

	"yearmark/schema"
)

// The parts of SARIF 2.1.0 (OASIS Standard, errata 01) that are written.
type (
	sarifLog struct {
		Schema  string     `json:"$schema"`
		Version string     `json:"version"`
		Runs    []sarifRun `json:"runs"`
	}
	sarifRun struct {
		Tool       sarifTool     `json:"tool"`
		ColumnKind string        `json:"columnKind"`
		Results    []sarifResult `json:"results"`
	}
	sarifTool struct {
		Driver sarifDriver `json:"driver"`
	}
	sarifDriver struct {
		Name  string      `json:"name"`
		Rules []sarifRule `json:"rules"`
	}
	sarifRule struct {
		ID     string          `json:"id"`
		Short  sarifText       `json:"shortDescription"`
		Full   sarifText       `json:"fullDescription"`
		Help   sarifText       `json:"help"`
		Config sarifLevel      `json:"defaultConfiguration"`
		Bag    sarifProperties `json:"properties"`
	}
	sarifLevel struct {
		Level Level `json:"level"`
	}
	sarifProperties struct {
		Tags []string `json:"tags"`
	}
	sarifText struct {
		Text string `json:"text"`
	}
	sarifResult struct {
		RuleID    string          `json:"ruleId"`
		RuleIndex int             `json:"ruleIndex"`
		Level     Level           `json:"level"`
		Message   sarifText       `json:"message"`
		Locations []sarifLocation `json:"locations"`
		Related   []sarifLocation `json:"relatedLocations,omitempty"`
	}
	sarifLocation struct {
		ID       int            `json:"id,omitempty"`
		Physical *sarifPhysical `json:"physicalLocation,omitempty"`
		Message  *sarifText     `json:"message,omitempty"`
	}
	sarifPhysical struct {
		Artifact sarifArtifact `json:"artifactLocation"`
		Region   *sarifRegion  `json:"region,omitempty"`
	}
	sarifArtifact struct {
		URI string `json:"uri"`
	}
	sarifRegion struct {
		StartLine   int `json:"startLine"`
		StartColumn int `json:"startColumn,omitempty"`
		EndColumn   int `json:"endColumn,omitempty"`
	}
)

const sarifSchema = "https://docs.oasis-open.org/sarif/sarif/v2.1.0/errata01/os/schemas/sarif-schema-2.1.0.json"

// SARIF writes the findings as SARIF 2.1.0, for editors and services that show
// them beside the records. Files are named from the folder of the reference
// on; the other places of a finding are its related locations.
func SARIF(w io.Writer, r Report) error {
	rules, index := sarifRules()
	run := sarifRun{ColumnKind: "unicodeCodePoints", Results: make([]sarifResult, len(r.Findings))}
	run.Tool.Driver = sarifDriver{Name: "Yearmark", Rules: rules}
	for i, f := range r.Findings {
		at, known := index[f.Check]
		if !known {
			at = -1
		}
		result := sarifResult{RuleID: f.Check, RuleIndex: at, Level: f.Level, Message: sarifText{f.Message + helpAfter(f.Help)}}
		result.Locations = []sarifLocation{{Physical: physical(f.Pos, f.Width)}}
		for j, p := range f.Why {
			result.Related = append(result.Related, sarifLocation{ID: j + 1, Physical: physical(p.Pos, 0), Message: &sarifText{p.Message}})
		}
		run.Results[i] = result
	}
	e := json.NewEncoder(w)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	return e.Encode(sarifLog{Schema: sarifSchema, Version: "2.1.0", Runs: []sarifRun{run}})
}

func helpAfter(help string) string {
	if help == "" {
		return ""
	}
	return ". " + help
}

func sarifRules() (rules []sarifRule, index map[string]int) {
	index = make(map[string]int, len(registry))
	for i, c := range registry {
		index[c.Name] = i
		rules = append(rules, sarifRule{
			ID: c.Name, Short: sarifText{c.Meaning}, Full: sarifText{c.Meaning + "\n\n" + c.Example},
			Help: sarifText{c.Remedy}, Config: sarifLevel{c.Level}, Bag: sarifProperties{[]string{string(c.Family)}},
		})
	}
	return rules, index
}

// physical is a place in a file, or nil where there is none.
func physical(pos schema.Pos, width int) *sarifPhysical {
	if pos.File == "" {
		return nil
	}
	p := &sarifPhysical{Artifact: sarifArtifact{(&url.URL{Path: pos.File}).String()}}
	if pos.Line > 0 {
		p.Region = &sarifRegion{StartLine: pos.Line, StartColumn: pos.Column}
		if width > 0 {
			p.Region.EndColumn = pos.Column + width
		}
	}
	return p
}
