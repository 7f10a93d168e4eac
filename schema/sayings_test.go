package schema

import (
	"strings"
	"testing"
	"testing/fstest"
)

// TestSayingsAreHeldToTheRecords wants each slip in what practitioners say told
// once, at its line, and a record without slips read in silence.
func TestSayingsAreHeldToTheRecords(t *testing.T) {
	read := func(maker, feature, example string) []string {
		files := fstest.MapFS{
			"reference.yaml":   {Data: []byte("name: A\nyears: 1950/1970\n")},
			"makers/works.md":  {Data: []byte("---\nrecord: maker\nname: Works\n" + maker + "---\n")},
			"makers/far.md":    {Data: []byte("---\nrecord: maker\nname: Far Works\n---\n")},
			"features/wood.md": {Data: []byte("---\nrecord: feature\nname: Wood\nkind: choice\nvalues: [{id: ash}]\n" + feature + "---\n")},
			"models/knot.md":   {Data: []byte("---\nrecord: model\nname: Knot\nmaker: works\nmade: {span: 1960, cites: [talk]}\n---\n")},
			"models/ruff.md":   {Data: []byte("---\nrecord: model\nname: Ruff\nmaker: works\nmade: {span: 1960, cites: [talk]}\n---\n")},
			"sources/talk.md":  {Data: []byte("---\nrecord: source\nname: Talk\nkind: recollection\n---\n")},
			"examples/0001.md": {Data: []byte("---\nrecord: example\n" + example + "---\n")},
		}
		_, problems, err := ReadFS(files, "a")
		if err != nil {
			t.Fatal(err)
		}
		var all []string
		for _, p := range problems {
			all = append(all, p.Message)
		}
		return all
	}
	good := read("look-first: [{feature: wood, because: Quick, cites: [talk]}]\nnamesakes: [{maker: far, tell: No oval}, {name: Near, tell: Mallets, cites: [talk]}]\nmissing: [{what: The list of 1962, span: 1962, cites: [talk]}]\n",
		"means: [{value: ash, says: A second, cites: [talk]}, {value: ash, says: Left-handed, by: Ann, cites: [talk]}, {says: Nothing, cites: [talk]}]\n", "either: [knot, ruff]\n")
	if len(good) > 0 {
		t.Errorf("without slips: %q", good)
	}
	for _, c := range [][4]string{
		{"look-first: [{feature: wod}]\n", "", "", `there is no feature "wod"`},
		{"look-first: [{feature: wood}, {feature: wood}]\n", "", "", "looked at first twice"},
		{"look-first: [{feature: wood, cites: [tlak]}]\n", "", "", `"tlak"`},
		{"namesakes: [{tell: No oval}]\n", "", "", "neither maker nor name"},
		{"namesakes: [{maker: works, tell: No oval}]\n", "", "", "its own namesake"},
		{"namesakes: [{maker: fra, tell: No oval}]\n", "", "", `there is no maker "fra"`},
		{"namesakes: [{maker: far}]\n", "", "", `no key "tell"`},
		{"missing: [{span: 1962}]\n", "", "", `no key "what"`},
		{"", "means: [{value: elm, says: A second, cites: [talk]}]\n", "", `"elm" is not a value`},
		{"", "means: [{value: ash, says: A second}]\n", "", `no key "cites"`},
		{"", "", "either: [knot]\n", "a single model"},
		{"", "", "either: [knot, knot]\n", "stands twice"},
		{"", "", "either: [knot, rough]\n", `there is no model "rough"`},
		{"", "", "model: knot\neither: [knot, ruff]\n", "both model and either"},
	} {
		got := read(c[0], c[1], c[2])
		if len(got) != 1 || !strings.Contains(got[0], c[3]) {
			t.Errorf("%q: %q, not %q", c[0]+c[1]+c[2], got, c[3])
		}
	}
}

// TestLookAlikesAreToldApart wants the tie of a look-alike to say how, and to be to
// another model.
func TestLookAlikesAreToldApart(t *testing.T) {
	for related, want := range map[string]string{
		"{model: ruff, how: look-alike, tell: Shorter, cites: [talk]}": "",
		"{model: ruff, how: made-beside, tell: Shorter}":               "",
		"{model: ruff, how: look-alike, cites: [talk]}":                `no key "tell"`,
		"{model: knot, how: look-alike, tell: Shorter}":                "tied to itself",
		"{model: ruf, how: look-alike, tell: Shorter}":                 `there is no model "ruf"`,
	} {
		_, problems, err := ReadFS(fstest.MapFS{
			"reference.yaml":  {Data: []byte("name: A\nyears: 1950/1970\n")},
			"makers/works.md": {Data: []byte("---\nrecord: maker\nname: Works\n---\n")},
			"models/knot.md":  {Data: []byte("---\nrecord: model\nname: Knot\nmaker: works\nmade: {span: 1960, cites: [talk]}\nrelated: [" + related + "]\n---\n")},
			"models/ruff.md":  {Data: []byte("---\nrecord: model\nname: Ruff\nmaker: works\nmade: {span: 1960, cites: [talk]}\n---\n")},
			"sources/talk.md": {Data: []byte("---\nrecord: source\nname: Talk\nkind: recollection\n---\n")},
		}, "a")
		if err != nil || (want == "") != (len(problems) == 0) || want != "" && !strings.Contains(problems[0].Message, want) {
			t.Errorf("%s: %v, %v, not %q", related, problems, err, want)
		}
	}
}

// TestCountsWithoutAYearAreHeldToTheRecords wants no more found than looked at, of a
// value that the feature has.
func TestCountsWithoutAYearAreHeldToTheRecords(t *testing.T) {
	for counted, want := range map[string]string{
		"{feature: wood, value: ash, with: 4, of: 6, note: All from one shed, cites: [talk]}": "",
		"{feature: wood, value: ash, with: 0, of: 6, cites: [talk]}":                          "",
		"{feature: wood, value: ash, with: 7, of: 6, cites: [talk]}":                          "found on 7 bows, and only 6 were looked at",
		"{feature: wood, value: ash, with: 2, of: 1, cites: [talk]}":                          "and only one was looked at",
		"{feature: wood, value: elm, with: 4, of: 6, cites: [talk]}":                          `"elm" is not a value`,
		"{feature: wod, value: ash, with: 4, of: 6, cites: [talk]}":                           `there is no feature "wod"`,
		"{feature: wood, value: ash, with: 4, of: 6, cites: [tlak]}":                          `"tlak"`,
		"{feature: wood, value: ash, with: 4, of: 6}":                                         `no key "cites"`,
	} {
		for _, kind := range []string{"maker", "model"} {
			files := fstest.MapFS{
				"reference.yaml":   {Data: []byte("name: A\nyears: 1950/1970\n")},
				"features/wood.md": {Data: []byte("---\nrecord: feature\nname: Wood\nkind: choice\nvalues: [{id: ash}]\n---\n")},
				"sources/talk.md":  {Data: []byte("---\nrecord: source\nname: Talk\nkind: recollection\n---\n")},
			}
			said := map[string]string{kind: "counted: [" + counted + "]\n"}
			files["makers/works.md"] = &fstest.MapFile{Data: []byte("---\nrecord: maker\nname: Works\n" + said["maker"] + "---\n")}
			files["models/knot.md"] = &fstest.MapFile{Data: []byte("---\nrecord: model\nname: Knot\nmaker: works\nmade: {span: 1960, cites: [talk]}\n" + said["model"] + "---\n")}
			_, problems, err := ReadFS(files, "a")
			if err != nil || (want == "") != (len(problems) == 0) || want != "" && !strings.Contains(problems[0].Message, want) {
				t.Errorf("%s, %s: %v, %v, not %q", kind, counted, problems, err, want)
			}
		}
	}
}

// TestReadingsOfStampsArePartedByYears takes one reading without a list as before,
// and of several wants years that none share.
func TestReadingsOfStampsArePartedByYears(t *testing.T) {
	for marks, want := range map[string]string{
		"{before: {\"X\": -1 lb}, runs: -1..2 lb, cites: [talk]}":                                                        "",
		"[{span: ../1962, after: {\"X\": +1 lb}, cites: [talk]}, {span: 1963/.., after: {\"X\": +2 lb}, cites: [talk]}]": "",
		"[{span: ../1963, after: {\"X\": +1 lb}}, {span: 1963/.., after: {\"X\": +2 lb}}]":                               "share years",
		"[{span: 1950/1960, runs: 0..2 lb}, {span: 1955, runs: 0..1 lb}]":                                                "share years",
		"[{after: {\"X\": +1 lb}}, {span: 1963/.., after: {\"X\": +2 lb}}]":                                              "has no years",
		"{runs: 0..2 in}":                "does not say pounds",
		"{runs: 0..2 lb, cites: [tlak]}": `"tlak"`,
		"{rums: 0..2 lb}":                `no key "rums"`,
		"none":                           "keys and values",
	} {
		ref, problems, err := ReadFS(fstest.MapFS{
			"reference.yaml":  {Data: []byte("name: A\nyears: 1950/1970\n")},
			"makers/works.md": {Data: []byte("---\nrecord: maker\nname: Works\nweight-marks: " + marks + "\n---\n")},
			"sources/talk.md": {Data: []byte("---\nrecord: source\nname: Talk\nkind: recollection\n---\n")},
		}, "a")
		if err != nil || (want == "") != (len(problems) == 0) || want != "" && !strings.Contains(problems[0].Message, want) {
			t.Errorf("%s: %v, %v, not %q", marks, problems, err, want)
		}
		if m, _ := ref.Makers.Get("works"); want == "" && (len(m.WeightMarks) == 0 || len(m.WeightMarks[0].Before)+len(m.WeightMarks[0].After) != 1) {
			t.Errorf("%s is read as %v", marks, m.WeightMarks)
		}
	}
	for runs, want := range map[string]string{"0..2 lb": "up to 2 lb over", "-1..0 lb": "up to 1 lb under", "-1..2 lb": "from 1 lb under to 2 lb over", "1..2 lb": "1 to 2 lb over", "-2..-1 lb": "1 to 2 lb under"} {
		r, err := ParseRange(runs)
		r.Pos = At("works.md", 1, 1)
		if got := (&WeightMarks{Runs: r}).RunsWords(); err != nil || got != want {
			t.Errorf("%s: %q (%v), not %q", runs, got, err, want)
		}
	}
}
