package edtf

import (
	"bytes"
	"encoding/json"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"testing"

	"yearmark/testdata/need"
)

// reading is what the npm library makes of one expression.
type reading struct {
	Verdict  string // reads, refuses or throws
	Level    int
	Earliest string
	Latest   string
}

// referenceReads asks the npm library in one process.
func referenceReads(t *testing.T, texts []string) []reading {
	t.Helper()
	folder := need.Npm(t, "edtf")
	script, err := filepath.Abs(filepath.Join("testdata", "reference.mjs"))
	if err != nil {
		t.Fatal(err)
	}
	input, err := json.Marshal(texts)
	if err != nil {
		t.Fatal(err)
	}
	node := exec.Command(need.Node(t), script)
	node.Dir, node.Stdin, node.Stderr = folder, bytes.NewReader(input), os.Stderr
	node.Env = append(os.Environ(), "TZ=UTC")
	output, err := node.Output()
	if err != nil {
		t.Fatal(err)
	}
	var readings []reading
	if err := json.Unmarshal(output, &readings); err != nil {
		t.Fatal(err)
	}
	if len(readings) != len(texts) {
		t.Fatalf("%d readings of %d expressions", len(readings), len(texts))
	}
	return readings
}

// ourReading gives our own answer in the same shape.
func ourReading(s string) reading {
	e, err := Parse(s)
	if err != nil {
		return reading{Verdict: "refuses"}
	}
	return reading{"reads", e.Level(), bound(e.Earliest()), bound(e.Latest())}
}

// difference names how two readings differ, or is empty where they agree. An
// expression that the library parses and then cannot build counts as refused
// where we refuse it.
func difference(ours, theirs reading) (kind, shown string) {
	bounds := theirs.Earliest + ".." + theirs.Latest
	switch {
	case ours.Verdict == "refuses" && theirs.Verdict == "reads":
		return "accepts", bounds
	case ours.Verdict == "refuses":
		return "", ""
	case theirs.Verdict != "reads":
		return theirs.Verdict, ""
	case ours.Earliest != theirs.Earliest || ours.Latest != theirs.Latest:
		return "bounds", bounds
	case ours.Level != theirs.Level:
		return "level", strconv.Itoa(theirs.Level)
	}
	return "", ""
}

// Each known fault of the library must still occur as its row shows.
func TestReferenceFaults(t *testing.T) {
	rows := table(t, "reference-faults.tsv")
	var texts []string
	for _, row := range rows {
		texts = append(texts, row["example"])
	}
	for i, theirs := range referenceReads(t, texts) {
		row := rows[i]
		kind, shown := difference(ourReading(texts[i]), theirs)
		if kind != row["kind"] || shown != row["theirs"] {
			t.Errorf("%s: %s: %q %q, listed as %q %q", row["fault"], texts[i], kind, shown, row["kind"], row["theirs"])
		}
		if !regexp.MustCompile(row["pattern"]).MatchString(texts[i]) {
			t.Errorf("%s: its pattern does not fit its example %s", row["fault"], texts[i])
		}
	}
}

// Beside the library over the published strings and made ones: every
// difference must be a listed fault.
func TestReference(t *testing.T) {
	faults := table(t, "reference-faults.tsv")
	patterns := make([]*regexp.Regexp, len(faults))
	for i, row := range faults {
		patterns[i] = regexp.MustCompile(row["pattern"])
	}
	var texts []string
	for _, row := range table(t, "valid.tsv") {
		texts = append(texts, row["expression"])
	}
	for _, row := range table(t, "refused.tsv") {
		texts = append(texts, refusedString(row["string"]))
	}
	texts = append(texts, expressions(1, 8000)...)
	agreed := 0
	for i, theirs := range referenceReads(t, texts) {
		kind, shown := difference(ourReading(texts[i]), theirs)
		if kind == "" {
			agreed++
			continue
		}
		listed := false
		for j, row := range faults {
			if row["kind"] == kind && patterns[j].MatchString(texts[i]) {
				listed = true
			}
		}
		if !listed {
			t.Errorf("%q: %s %s; ours %v: no listed fault", texts[i], kind, shown, ourReading(texts[i]))
		}
	}
	t.Logf("%d of %d expressions read alike", agreed, len(texts))
	if agreed < len(texts)/2 {
		t.Errorf("only %d of %d read alike: the comparison says little", agreed, len(texts))
	}
}
