package checks

import (
	"io"
	"net/url"

	"github.com/owenrumney/go-sarif/v3/pkg/report/v210/sarif"

	"yearmark/schema"
)

// sarifSchema is the published schema that the output is valid under (OASIS
// Standard, errata 01).
const sarifSchema = "https://docs.oasis-open.org/sarif/sarif/v2.1.0/errata01/os/schemas/sarif-schema-2.1.0.json"

// SARIF writes the findings as SARIF 2.1.0, for editors and services that show
// them beside the records. Files are named from the folder of the reference
// on; the other places of a finding are its related locations, and what mend can
// carry out without asking are its fixes. A nil mend makes none.
func SARIF(w io.Writer, r Report, mend Mender) error {
	run := sarif.NewRun()
	run.ColumnKind = pointer("unicodeCodePoints")
	run.Tool = sarif.NewTool()
	run.Tool.Driver = sarif.NewToolComponent()
	run.Tool.Driver.Name = pointer("Yearmark")
	index := make(map[string]int, len(registry))
	for i, c := range registry {
		index[c.Name] = i
		run.Tool.Driver.Rules = append(run.Tool.Driver.Rules, sarifRule(c))
	}
	for _, f := range r.Findings {
		result := sarifResult(f)
		result.Fixes = append(result.Fixes, sarifFixes(f, mend)...)
		if i, known := index[f.Check]; known {
			result.RuleIndex = i
		}
		run.Results = append(run.Results, result)
	}
	report := sarif.NewReport()
	report.Schema = sarifSchema
	return report.AddRun(run).PrettyWrite(w)
}

func pointer[T any](v T) *T { return &v }

func sarifText(text string) *sarif.MultiformatMessageString {
	m := sarif.NewMultiformatMessageString()
	m.Text = &text
	return m
}

func sarifRule(c Check) *sarif.ReportingDescriptor {
	rule := sarif.NewRule(c.Name)
	rule.ShortDescription = sarifText(c.Meaning)
	rule.FullDescription = sarifText(c.Meaning + "\n\n" + c.Example)
	rule.Help = sarifText(c.Remedy)
	rule.DefaultConfiguration = sarif.NewReportingConfiguration()
	rule.DefaultConfiguration.Level = string(c.Level)
	rule.Properties = sarif.NewPropertyBag().AddTag(string(c.Family))
	return rule
}

func sarifResult(f Finding) *sarif.Result {
	message := f.Message
	if f.Help != "" {
		message += ". " + f.Help
	}
	result := sarif.NewRuleResult(f.Check)
	result.Level = string(f.Level)
	result.Message = sarif.NewTextMessage(message)
	result.Locations = []*sarif.Location{sarifPlace(f.Pos, f.Width)}
	for i, p := range f.Why {
		place := sarifPlace(p.Pos, 0)
		place.ID = i + 1
		place.Message = sarif.NewTextMessage(p.Message)
		result.RelatedLocations = append(result.RelatedLocations, place)
	}
	return result
}

// sarifPlace is a place in a file, without one where there is none.
func sarifPlace(pos schema.Pos, width int) *sarif.Location {
	place := sarif.NewLocation()
	if pos.File() == "" {
		return place
	}
	place.PhysicalLocation = sarif.NewPhysicalLocation()
	place.PhysicalLocation.ArtifactLocation = sarif.NewSimpleArtifactLocation((&url.URL{Path: pos.File()}).String())
	if pos.Line() > 0 {
		region := sarif.NewRegion()
		region.StartLine, region.StartColumn = pointer(pos.Line()), pointer(pos.Column())
		if width > 0 {
			region.EndColumn = pointer(pos.Column() + width)
		}
		place.PhysicalLocation.Region = region
	}
	return place
}
