package sheets

import (
	"errors"
	"fmt"
	"strings"
	"testing"
)

// refusals are changes that cannot be taken over, each with how the first
// problem is told. The register has 7 claims, in rows 2 to 8.
var refusals = []struct {
	orders, want string
}{
	{"claims\nset heron/made span 1955-60", `table.csv:2:34: row 2, column "span": "1955-60" cannot be read as years`},
	{"claims\nset heron/ash-riser value oka", `column "value": "oka" is not a value of "riser-wood"`},
	{"claims\nset heron/ash-riser feature riser-wod", `column "feature": there is no feature "riser-wod"`},
	{"claims\nset heron/ash-riser cites \"lits-1955, p. 2\"", `column "cites": there is no source "lits-1955"`},
	{"claims\nset heron/ash-riser cites \"p. 2\"", `column "cites": the place "p. 2" stands without its source`},
	{"claims\nset heron/riser-wood-elm span \"\"", `the claim does not say in which years it holds`},
	{"claims\nset heron/ash-riser era first", `column "era": the claim has both a span and an era`},
	{"claims\nset heron/ash-riser held tightly", `column "held": "tightly" is not a value of "held"`},
	{"claims\nset heron/ash-riser only perhaps", `column "only": "perhaps" is neither yes nor no`},
	{"claims\nset heron/made only yes", `column "only": "only" cannot be written in the made span`},
	{"claims\nset heron/mark attested \"list-1955, p. 1\"", `column "attested": the sighting "list-1955, p. 1" does not begin with a year`},
	{"claims\nset heron/mark attested \"1956: lits-1955\"", `column "attested": there is no source "lits-1955"`},
	{"claims\nset heron/draw-weight range \"45..30 lb\"", `column "range": the range "45..30 lb" runs downwards`},
	{"claims\nset heron/draw-weight range \"30..45 stone\"", `column "range": the unit "stone" is not known`},
	{"claims\nset heron/mark settled-on yesterday", `column "settled-on": "yesterday" cannot be read as years`},
	{"claims\nset heron/made model wren", `column "model": the cell says "wren", the record "heron"`},
	{"claims\nset heron/made claim heron/mad", `column "claim": there is no claim "heron/mad"`},
	{"claims\nset heron/made note \"a\u200bb\"", `column "note": an invisible character (U+200B) stands in the text`},
	{"claims\nset wren/made claim heron/made", `column "claim": the claim "heron/made" is in row`},
	{"claims\nadd claim heron/x feature riser-wood", `table.csv:11: row 9: a feature claim has no key "value"`},
	{"claims\nadd claim heron/made about made span 1955", `column`},
	{"claims\nadd claim heron/late about era span 1955", `column "claim": the claim "heron/late" is an era`},
	{"claims\nadd claim late about era span 1955", `column "claim": "late" is no claim's name`},
	{"claims\nadd claim heorn/late about feature", `column "claim": there is no model "heorn"`},
	{"claims\nadd maker orest about owner", `column "maker": there is no maker "orest"`},
	{"claims\nadd feature riser-wood", `the row names neither a claim that is there nor the model of a new one`},
	{"claims\nadd model heron", `column "about": the row does not say what the new claim is about`},
	{"claims\nadd model heron about eras", `column "about": there is no claim about "eras"`},
	{"claims\nadd model heron about owner name X", `column "about": a claim about "owner" does not belong to a model`},
	{"claims\nadd claim heron/A-B feature riser-wood value ash span 1955", `column "claim": the id "A-B" is no identifier`},
	{"claims\nadd claim heron/riser-wood-elm-2 model wren", `column "model": the model is "wren" here and "heron" in the claim's name`},
	{"claims\nwiden nots", `table.csv:1:`},
	{"claims\nwiden span", `the column "span" is there twice`},
	{"sources\nset list-1955 kind leaflet", `column "kind": "leaflet" is not a value of "kind"`},
	{"sources\nset list-1955 name \"\"", `row 3: a source has no key "name"`},
	{"sources\nset list-1955 issued soon", `column "issued": "soon" cannot be read as years`},
	{"sources\nset list-1965 link javascript:alert(1)", `column "link": "javascript:alert(1)" is not an address`},
	{"sources\nset list-1965 copied-sha256 12", `column "copied-sha256": "sha256" wants 64 hexadecimal digits`},
	{"sources\nset list-1965 relies-on \"list-1955 | list-55\"", `column "relies-on": there is no source "list-55"`},
	{"sources\nadd source ../models/heron name X kind book", `column "source": "../models/heron" cannot be a record's name`},
	{"sources\nadd source aux name X kind book", `column "source": "aux" cannot be a record's name`},
	{"sources\nadd source example-1 name X kind book", `column "source": "example-1" cannot be a record's name`},
	{"sources\nadd name X", `column "source": the row does not name its source`},
	{"sources\nadd source new-one kind book", `row 5, column "name": a new source needs "name"`},
	{"places\nset letter-1990/1 region \"xywh=percent:60,0,60,9\"", `column "region": the region "xywh=percent:60,0,60,9" ends beyond 100 per cent`},
	{"places\nset letter-1990/1 own perhaps", `column "own": "perhaps" is neither yes nor no`},
	{"places\nset letter-1990/1 relies-on list-55", `column "relies-on": there is no source "list-55"`},
	{"places\nset letter-1990/1 place letter-1990/9", `column "place": there is no place "letter-1990/9"`},
	{"places\nset letter-1990/2 place letter-1990/1", `column "place": the place "letter-1990/1" is in row 2 already`},
	{"places\nadd source lettr-1990 at x", `column "source": there is no source "lettr-1990"`},
	{"places\nadd source letter-1990 says x", `a place has no key "at"`},
	{"examples\nset 0007 riser-wood padauk", `column "riser-wood": "padauk" is not a value of "riser-wood"`},
	{"examples\nset 0007 \"mark sure\" certain", `column "mark sure": "certain" is not a value of "sure"`},
	{"examples\nset 0007 \"mark 2\" start", `column "mark 2": "start" is not a value of "mark"`},
	{"examples\nset 0007 \"mark 2\" \"\"\nset 0007 draw-weight forty", `column "draw-weight": "forty" is not a figure`},
	{"examples\nset 0008 \"mark sure\" unsure", `column "mark sure": nothing is said of what was seen of "mark"`},
	{"examples\nset 0007 model hern", `column "model": there is no model "hern"`},
	{"examples\nset 0007 documented \"\"", `row 2: documented has no key "span"`},
	{"examples\nset 0007 condition limb", `a condition has neither state nor fault`},
	{"examples\nset 0007 pictures ../secret.png", `column "pictures": the picture "../secret.png" does not lie in the folder pictures`},
	{"examples\nwiden pitcures", `column "pitcures": there is no column "pitcures" in this table`},
	{"examples\nwiden private", `column "private": what is private is in no table`},
	{"examples\nset 0007 weight-mark \"12:08:00 AM\"", `column "weight-mark": the spreadsheet made the time of day "12:08:00 AM" of what was written`},
	{"examples\nset 0007 by \"#NAME?\"", `column "by": the spreadsheet shows an error in place of what was written`},
	{"models\nset heron maker orest", `column "maker": there is no maker "orest"`},
	{"models\nset heron made sometime", `column "made": "sometime" cannot be read as years`},
	{"models\nadd name Dipper maker orrest made 1960", `column "model": the row does not name its model`},
	{"models\nadd model Dipper name Dipper maker orrest made 1960", `column "model": "Dipper" cannot be a record's name`},
	{"models\nadd model dipper name Dipper made 1960", `column "maker": a new model needs "maker"`},
	{"models\nadd model dipper name Dipper maker orrest", `column "made": a new model needs "made"`},
	{"models\nset heron checksum \"\"\nset heron name \"Grey heron\"", `column "model": the name "heron" is taken`},
	{"models\nadd model dipper name Dipper maker orrest made 1960\nadd model dipper name Ouzel maker orrest made 1961", `column "model": the model "dipper" is in row 4 already`},
	{"models\nadd model dipper name Dipper maker orrest made 1960 made-cites \"lits-1955\"", `column "made-cites": there is no source "lits-1955"`},
	{"makers\nset orrest trading later", `column "trading": "later" cannot be read as years`},
	{"makers\nadd maker tarn place Tarnside", `column "name": a new maker needs "name"`},
	{"features\nset riser-wood kind colour", `column "kind": "colour" is not a value of "kind"`},
	{"features\nset riser-wood plausible 01/08/26", `column "plausible": the spreadsheet made the date "01/08/26" of a figure`},
	{"features\nset riser-wood ask A?\nadd feature riser-wood value yew ask B?", `column "ask": the cell says "B?", and row`},
	{"features\nadd feature riser-wood value ash tell X", `column "value": the value "ash" of "riser-wood" is in row`},
	{"features\nadd feature riser-wood value \"Red Ash\"", `column "value": `},
	{"features\nadd feature tiller value a name Tiller", `column "kind": a new feature needs "kind"`},
	{"features\nadd value a name Tiller", `column "feature": the row does not name its feature`},
	{"examples\nadd example A7 riser-wood oak", `column "example": "A7" cannot be a record's name`},
	{"examples\nwiden \"riser-wood 2\"\nset 0007 \"riser-wood 2\" elm", `"riser-wood" is observed twice on one bow`},
}

func TestRefusalsNameTheCell(t *testing.T) {
	files := register(t)
	for _, r := range refusals {
		data := changed(t, files, r.orders)
		p, err := Prepare(load(t, files), "table.csv", data)
		var told Problems
		switch {
		case err == nil:
			t.Errorf("%q was taken over: %d changes", r.orders, len(p.Changes))
		case !errors.As(err, &told):
			t.Errorf("%q: %T", r.orders, err)
		default:
			wellTold(t, r.orders, r.want, told, data)
		}
	}
}

// wellTold wants a problem with the words wanted, and every problem to have a
// place that is there, lower case, and a remedy.
func wellTold(t *testing.T, orders, want string, told Problems, data []byte) {
	t.Helper()
	found := false
	lines := strings.Split(string(data), "\n")
	for _, p := range told {
		found = found || strings.Contains(p.String(), want)
		if p.Help == "" || p.Message == "" || strings.HasSuffix(p.Message, ".") || p.Message[:1] != strings.ToLower(p.Message[:1]) {
			t.Errorf("%q: told badly: %+v", orders, p)
		}
		if p.File == "table.csv" && (p.Line < 1 || p.Line > len(lines) || p.Column > len(lines[p.Line-1])+1) {
			t.Errorf("%q: no such place: %+v", orders, p)
		}
	}
	if !found {
		t.Errorf("%q: want %q, got %v", orders, want, told)
	}
}

// TestFilesThatAreNoTables refuses what is no CSV, each with its reason.
func TestFilesThatAreNoTables(t *testing.T) {
	files := register(t)
	for data, want := range map[string]string{
		"":                                         "t.csv: the table is empty",
		"a,b\n1,2\n":                               "none of the columns names what the table is about: claim, place, source",
		"claim,span\nheron/made,\"19\"55\n":        "t.csv:2:15: the quotes of a cell are not in order",
		"claim,span\nheron/made,\"1955\n":          "the quotes of a cell are not in order",
		"claim,span\nheron/made\n":                 "t.csv:2: row 2: the row has 1 cells, but there are 2 columns",
		"claim,span\nheron/made,1955,x\n":          "t.csv:2:17: row 2: the row has 3 cells, but there are 2 columns",
		"claim\n\xff\n":                            "t.csv:2: a character is not UTF-8 text",
		"\xff\xfec\x00l\x00":                       "none of the columns names what the table is about",
		"PK\x03\x04":                               "this is a spreadsheet's own file, not CSV",
		"claim,span,span\n":                        `t.csv:1:12: row 1, column "span": the column "span" is there twice`,
		"claim,spam\n":                             `t.csv:1:7: row 1, column "spam": there is no column "spam" in this table`,
		"claim,span\n\n\nheron/made,x\n":           `t.csv:4:12: row 4, column "span": "x" cannot be read as years`,
		"claim,note,span\nheron/made,\"a\nb\",x\n": `t.csv:3:4: row 2, column "span": "x" cannot be read as years`,
	} {
		_, err := Prepare(load(t, files), "t.csv", []byte(data))
		if err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%q: want %q, got %v", data, want, err)
		}
	}
}

func TestManyProblemsAreBounded(t *testing.T) {
	text := "claim,span\n" + strings.Repeat("nobody/knows,1955\n", 1000)
	_, err := Prepare(load(t, register(t)), "t.csv", []byte(text))
	var told Problems
	if !errors.As(err, &told) || len(told) != maxProblems+1 {
		t.Fatalf("%d problems told", len(told))
	}
	if last := told[maxProblems].String(); !strings.Contains(last, fmt.Sprintf("there are %d more problems", 1000-maxProblems)) {
		t.Errorf("the last says %q", last)
	}
}

// TestRecordsWithMistakesAreLeft edits no record that cannot be read as it is.
func TestRecordsWithMistakesAreLeft(t *testing.T) {
	files := register(t)
	data := changed(t, files, "claims\nset heron/made span 1954/1965\nset wren/made span 1958")
	files["models/heron.md"] = strings.Replace(files["models/heron.md"], "maker: 'orrest'", "maker: 'orrest'\nmakre: orrest", 1)
	ref := loadAnyway(t, files)
	_, err := Prepare(ref, "table.csv", data)
	want := `row 2, column "claim": the record models/heron.md has a mistake of its own, on line 6: a model has no key "makre"`
	if err == nil || !strings.Contains(err.Error(), want) {
		t.Errorf("want %q, got %v", want, err)
	}
}
