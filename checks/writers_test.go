package checks

import (
	"bytes"
	"encoding/json"
	"go/ast"
	"go/parser"
	"go/token"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/owenrumney/go-sarif/v3/pkg/report/v210/sarif"
	"github.com/santhosh-tekuri/jsonschema/v6"

	"yearmark/schema"
	"yearmark/testdata/need"
)

func reportOf(t *testing.T, name string) (Report, *schema.Reference) {
	t.Helper()
	return reportOn(t, readFixture(t, filepath.Join(brokenFolder(t), name+".txtar")).bad)
}

func written(t *testing.T, write func(*bytes.Buffer) error) string {
	t.Helper()
	var b bytes.Buffer
	if err := write(&b); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

func TestText(t *testing.T) {
	report, ref := reportOf(t, "two-values")
	got := written(t, func(b *bytes.Buffer) error { return Text(b, report, ref, TextOptions{}) })
	want := `models/plover.md

  8:48  error  two-values  riser wood is both "padauk" and "walnut" in 1965–1967
         8  - {feature: riser-wood, value: walnut, span: 1965/1971, cites: [letter-aldous]} # want two-values "r…
                                                         ‾‾‾‾‾‾‾‾‾
     since  models/plover.md:7  Price list 1958, p. 2, says riser wood "padauk" for 1958–1967 (credence 0.97)
            models/plover.md:8  Letter from Aldous says riser wood "walnut" for 1965–1971 (credence 0.75)
    remedy  Mend the span that is wrong. If the sources truly disagree, put the other side under
            against: and add settled: with the reason, or disputed: true to show both.

1 error in 19 records
`
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("text differs:\n%s", diff)
	}
}

func TestTextSaysARemedyOnce(t *testing.T) {
	report, ref := reportOf(t, "spans-disagree")
	got := written(t, func(b *bytes.Buffer) error { return Text(b, report, ref, TextOptions{}) })
	if n := strings.Count(got, "remedy"); n != 1 {
		t.Errorf("the remedy is told %d times for 2 findings:\n%s", n, got)
	}
	if !strings.HasSuffix(got, "\n2 errors in 19 records\n") {
		t.Errorf("the counts do not come last:\n%s", got)
	}
}

func TestTextOfNothing(t *testing.T) {
	report := Report{Records: 1, LeftOut: []string{"a: nobody looked", "b: nobody looked"}}
	got := written(t, func(b *bytes.Buffer) error { return Text(b, report, nil, TextOptions{}) })
	if want := "nothing found in 1 record\nnot looked for, since nobody looked: a, b\n"; got != want {
		t.Errorf("got %q", got)
	}
}

var paint = regexp.MustCompile("\x1b\\[[0-9;]*m")

func TestColourAddsNothingButColour(t *testing.T) {
	for _, name := range []string{"two-values", "dead-link", "unsafe-picture", "unreadable"} {
		f := readFixture(t, filepath.Join(brokenFolder(t), name+".txtar"))
		report, ref := reportOn(t, f.bad)
		plain := written(t, func(b *bytes.Buffer) error { return Text(b, report, ref, TextOptions{Files: f.bad}) })
		coloured := written(t, func(b *bytes.Buffer) error { return Text(b, report, ref, TextOptions{Files: f.bad, Color: true}) })
		if strings.Contains(plain, "\x1b") {
			t.Errorf("%s: plain text has colours", name)
		}
		if !strings.Contains(coloured, "\x1b[1;31merror\x1b[0m") {
			t.Errorf("%s: an error is not coloured", name)
		}
		if diff := cmp.Diff(plain, paint.ReplaceAllString(coloured, "")); diff != "" {
			t.Errorf("%s: colour changes the text:\n%s", name, diff)
		}
		if len(paint.FindAllString(coloured, -1)) < 4*len(report.Findings) {
			t.Errorf("%s: the lines shown are not highlighted", name)
		}
	}
}

func TestUnreadableFilesShowTheirLine(t *testing.T) {
	f := readFixture(t, filepath.Join(brokenFolder(t), "unreadable.txtar"))
	report, ref := reportOn(t, f.bad)
	got := written(t, func(b *bytes.Buffer) error { return Text(b, report, ref, TextOptions{Files: f.bad}) })
	if !strings.Contains(got, "use: [target, field") {
		t.Errorf("the line in question is not shown:\n%s", got)
	}
}

// Whatever stands in a record, a terminal gets no control from it.
func TestTextIsHarmless(t *testing.T) {
	report := Report{Findings: []Finding{{
		Check: "x", Level: Error, Pos: schema.At("a\x1b[2J.md", 1, 1),
		Message: "it says \"\x1b]0;gone\a\u202e\"", Help: "Do\x1b[31m this.", Why: []Place{{Message: "so\x9b31m"}},
	}}}
	got := written(t, func(b *bytes.Buffer) error { return Text(b, report, nil, TextOptions{}) })
	for _, r := range got {
		if r != '\n' && (r < ' ' || r >= 0x7f && r < 0xa0 || r == '\u202e') {
			t.Fatalf("the character %U reaches the terminal: %q", r, got)
		}
	}
}

// The form of the JSON is documented; this is all of it.
func TestJSON(t *testing.T) {
	report, _ := reportOf(t, "two-values")
	got := written(t, func(b *bytes.Buffer) error { return JSON(b, report) })
	want := `{
  "version": 1,
  "findings": [
    {
      "check": "two-values",
      "level": "error",
      "file": "models/plover.md",
      "line": 8,
      "column": 48,
      "message": "riser wood is both \"padauk\" and \"walnut\" in 1965–1967",
      "why": [
        {
          "file": "models/plover.md",
          "line": 7,
          "column": 48,
          "message": "Price list 1958, p. 2, says riser wood \"padauk\" for 1958–1967",
          "credence": 0.97
        },
        {
          "file": "models/plover.md",
          "line": 8,
          "column": 48,
          "message": "Letter from Aldous says riser wood \"walnut\" for 1965–1971",
          "credence": 0.75
        }
      ],
      "help": "Mend the span that is wrong. If the sources truly disagree, put the other side under against: and add settled: with the reason, or disputed: true to show both."
    }
  ],
  "counts": {
    "error": 1,
    "warning": 0,
    "note": 0
  }
}
`
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("JSON differs:\n%s", diff)
	}
	empty := written(t, func(b *bytes.Buffer) error { return JSON(b, Report{}) })
	if !strings.Contains(empty, `"findings": []`) {
		t.Errorf("no findings are not an empty list: %s", empty)
	}
}

// The published schema of SARIF 2.1.0 (OASIS, errata 01) is carried, unexported,
// by the module github.com/owenrumney/go-sarif/v3; it is read out of its source
// and applied by another validator.
func publishedSARIFSchema(t *testing.T) *jsonschema.Schema {
	t.Helper()
	out, err := exec.Command("go", "list", "-m", "-f", "{{.Dir}}", "github.com/owenrumney/go-sarif/v3").Output()
	file := filepath.Join(strings.TrimSpace(string(out)), "pkg", "report", "v210", "sarif", "schema.go")
	if _, statErr := os.Stat(file); err != nil || statErr != nil {
		need.Missing(t, "the module with the schema of SARIF is not here")
	}
	source, err := parser.ParseFile(token.NewFileSet(), file, nil, 0)
	if err != nil {
		t.Fatal(err)
	}
	text := ""
	ast.Inspect(source, func(n ast.Node) bool {
		if lit, ok := n.(*ast.BasicLit); ok && text == "" {
			text, _ = strconv.Unquote(lit.Value)
		}
		return true
	})
	doc, err := jsonschema.UnmarshalJSON(strings.NewReader(text))
	if err != nil {
		t.Fatal(err)
	}
	c := jsonschema.NewCompiler()
	if err := c.AddResource("sarif.json", doc); err != nil {
		t.Fatal(err)
	}
	compiled, err := c.Compile("sarif.json")
	if err != nil {
		t.Fatal(err)
	}
	return compiled
}

func TestSARIFIsValid(t *testing.T) {
	published := publishedSARIFSchema(t)
	valid := func(text string) error {
		doc, err := jsonschema.UnmarshalJSON(strings.NewReader(text))
		if err != nil {
			t.Fatal(err)
		}
		return published.Validate(doc)
	}
	for _, f := range fixtures(t) {
		report, _ := reportOn(t, f.bad)
		if err := valid(written(t, func(b *bytes.Buffer) error { return SARIF(b, report, nil) })); err != nil {
			t.Errorf("%s: %v", f.name, err)
		}
	}
	if err := valid(written(t, func(b *bytes.Buffer) error { return SARIF(b, Report{}, nil) })); err != nil {
		t.Errorf("an empty report: %v", err)
	}
	if valid(`{"version": "2.1.0", "runs": [{"results": []}]}`) == nil {
		t.Error("the schema takes a run without a tool: it proves nothing")
	}
}

func TestSARIFSaysAll(t *testing.T) {
	report, _ := reportOf(t, "two-values")
	var log sarif.Report
	if err := json.Unmarshal([]byte(written(t, func(b *bytes.Buffer) error { return SARIF(b, report, nil) })), &log); err != nil {
		t.Fatal(err)
	}
	run := log.Runs[0]
	if len(run.Tool.Driver.Rules) != len(registry) {
		t.Errorf("%d rules for %d checks", len(run.Tool.Driver.Rules), len(registry))
	}
	for i, rule := range run.Tool.Driver.Rules {
		if *rule.ID != registry[i].Name || *rule.Help.Text == "" || rule.DefaultConfiguration.Level != string(registry[i].Level) {
			t.Errorf("the rule %d is not that of %s", i, registry[i].Name)
		}
	}
	result := run.Results[0]
	if *run.Tool.Driver.Rules[result.RuleIndex].ID != *result.RuleID {
		t.Errorf("the result points to the rule %s", *run.Tool.Driver.Rules[result.RuleIndex].ID)
	}
	at := result.Locations[0].PhysicalLocation
	if *at.ArtifactLocation.URI != "models/plover.md" || *at.Region.StartLine != 8 || *at.Region.StartColumn != 48 {
		t.Errorf("the place is %+v %+v", at.ArtifactLocation, at.Region)
	}
	if near := result.RelatedLocations; len(near) != 2 || *near[0].PhysicalLocation.Region.StartLine != 7 || !strings.Contains(*near[0].Message.Text, "Price list 1958") {
		t.Errorf("the related places are %+v", near)
	}
}

func TestExplain(t *testing.T) {
	for _, c := range registry {
		got := written(t, func(b *bytes.Buffer) error { return Explain(b, c) })
		if !strings.HasPrefix(got, c.Name+" (") || !strings.Contains(got, "→ ") || !strings.Contains(got, "What to do:") {
			t.Errorf("%s is explained thus:\n%s", c.Name, got)
		}
		for line := range strings.SplitSeq(got, "\n") {
			if len([]rune(line)) > 200 {
				t.Errorf("%s: a line of %d characters", c.Name, len([]rune(line)))
			}
		}
	}
}
