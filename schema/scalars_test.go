package schema

import (
	"errors"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

func TestParseRange(t *testing.T) {
	for _, test := range []struct {
		text      string
		low, high float64
		unit      Unit
	}{
		{"30..55 lb", 30, 55, Pound},
		{"7 1/4..7 3/4 in", 7.25, 7.75, Inch},
		{"7¼..7¾ in", 7.25, 7.75, Inch},
		{"7.25..7.75in", 7.25, 7.75, Inch},
		{"7-1/4 .. 7-3/4 in", 7.25, 7.75, Inch},
		{"7 ⅛ in", 7.125, 7.125, Inch},
		{"¾..1 in", .75, 1, Inch},
		{"1/8", .125, .125, ""},
		{"7 1⁄2 in", 7.5, 7.5, Inch},
		{"-1 lb", -1, -1, Pound},
		{"+1 lb", 1, 1, Pound},
		{"−1..+1 lb", -1, 1, Pound},
		{"-7 1/4 in", -7.25, -7.25, Inch},
		{"30 lb..55 lb", 30, 55, Pound},
		{"2..3", 2, 3, ""},
		{"042", 42, 42, ""},
		{"66", 66, 66, ""},
		{"1..1 kg", 1, 1, Kilogram},
		{"400..450 gr", 400, 450, Grain},
		{"5..10 g", 5, 10, Gram},
		{"5..10 mm", 5, 10, Millimetre},
		{"5..10 cm", 5, 10, Centimetre},
	} {
		r, err := ParseRange(test.text)
		if err != nil || r.Low != test.low || r.High != test.high || r.Unit != test.unit || r.Written != test.text {
			t.Errorf("%q: %+v, %v", test.text, r, err)
		}
	}
}

func TestParseRangeRefuses(t *testing.T) {
	for _, test := range []struct{ text, check, help string }{
		{"", CheckMalformedFigure, "Write both figures"},
		{"..", CheckMalformedFigure, "Write both figures"},
		{"30..", CheckMalformedFigure, "Write both figures"},
		{"lb", CheckMalformedFigure, "Write a figure"},
		{"30…55 lb", CheckMalformedFigure, "Write 30..55 lb."},
		{"30–55 lb", CheckMalformedFigure, "Write 30..55 lb."},
		{"30 - 55 lb", CheckMalformedFigure, "Write 30..55 lb."},
		{"30 to 55", CheckMalformedFigure, "Write 30..55."},
		{"55-30 lb", CheckMalformedFigure, "smaller figure first: 30..55 lb"},
		{"7,25 in", CheckMalformedFigure, "7.25 in"},
		{"1,000 lb", CheckMalformedFigure, "1.000 lb"},
		{"7 5/4 in", CheckMalformedFigure, "Write a figure"},
		{"1/0", CheckMalformedFigure, "Write a figure"},
		{"1e9 lb", CheckMalformedFigure, ""},
		{"0x10", CheckMalformedFigure, ""},
		{"1.", CheckUnknownUnit, ""},
		{".5", CheckMalformedFigure, ""},
		{"1_000", CheckMalformedFigure, ""},
		{"NaN", CheckMalformedFigure, ""},
		{"Inf..Inf", CheckMalformedFigure, ""},
		{"99999999999", CheckMalformedFigure, ""},
		{"1 2", CheckMalformedFigure, ""},
		{"٣ lb", CheckMalformedFigure, ""},
		{"55..30 lb", CheckReversedRange, "30..55 lb"},
		{"7 3/4..7 1/4 in", CheckReversedRange, "7 1/4..7 3/4 in"},
		{"30 lbs", CheckUnknownUnit, "Write lb."},
		{"30 LB", CheckUnknownUnit, "Write lb."},
		{"30#", CheckUnknownUnit, "Write lb."},
		{"66\"", CheckUnknownUnit, "Write in."},
		{"66 inches", CheckUnknownUnit, "Write in."},
		{"66 inn", CheckUnknownUnit, "Did you mean \"in\"?"},
		{"5 furlongs", CheckUnknownUnit, "The units are in, lb"},
		{"5 in..5 cm", CheckWrongUnit, "one unit"},
	} {
		r, err := ParseRange(test.text)
		var m *Malformed
		if !errors.As(err, &m) || m.Check != test.check || !strings.Contains(m.Help, test.help) || m.Text != test.text {
			t.Errorf("%q: %+v, %#v", test.text, r, err)
			continue
		}
		if m.Offset < 0 || m.Offset > len(test.text) {
			t.Errorf("%q: offset %d", test.text, m.Offset)
		}
	}
}

// TestRangeRemedies: what a remedy says to write can be read.
func TestRangeRemedies(t *testing.T) {
	for _, text := range []string{"30–55 lb", "30 to 55 lb", "55..30 lb", "7 3/4..7 1/4 in", "30 lb..20 lb"} {
		_, err := ParseRange(text)
		var m *Malformed
		if !errors.As(err, &m) {
			t.Fatal(text, err)
		}
		at := strings.IndexFunc(m.Help, func(r rune) bool { return r >= '0' && r <= '9' })
		advice := strings.TrimSuffix(m.Help[at:], ".")
		if _, err := ParseRange(advice); err != nil {
			t.Errorf("%q: the remedy %q cannot be read: %v", text, advice, err)
		}
	}
}

func TestParseStep(t *testing.T) {
	for text, want := range map[string]float64{"1": 1, "1/8": .125, "0.5": .5, "10": 10, "¼": .25, "1 1/2": 1.5} {
		if got, err := ParseStep(text); err != nil || got != want {
			t.Errorf("%q: %v, %v", text, got, err)
		}
	}
	for _, text := range []string{"", "0", "-1", "1 in", "one", "1..2"} {
		if got, err := ParseStep(text); err == nil {
			t.Errorf("%q: %v", text, got)
		}
	}
}

func TestParseQuantity(t *testing.T) {
	v, unit, err := ParseQuantity("7 1/4 in")
	if err != nil || v != 7.25 || unit != Inch {
		t.Error(v, unit, err)
	}
	if _, _, err := ParseQuantity("7..8 in"); err == nil {
		t.Error("a range was taken for a figure")
	}
}

// TestEighths: every eighth of an inch reads the same however it is written.
func TestEighths(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		whole, eighths := rapid.IntRange(0, 200).Draw(t, "whole"), rapid.IntRange(1, 7).Draw(t, "eighths")
		want := float64(whole) + float64(eighths)/8
		signs := []string{"", "⅛", "¼", "⅜", "½", "⅝", "¾", "⅞"}
		n, parts := strconv.Itoa(whole), strconv.Itoa(eighths)
		for _, text := range []string{n + " " + parts + "/8", n + "-" + parts + "/8", n + signs[eighths], n + " " + signs[eighths], strconv.FormatFloat(want, 'f', -1, 64)} {
			if v, _, err := ParseQuantity(text + " in"); err != nil || v != want {
				t.Fatalf("%q: %v, %v", text, v, err)
			}
		}
	})
}

func TestParseCitation(t *testing.T) {
	at := At("a", 1, 2)
	for text, want := range map[string]Citation{
		"list-1964, p. 6":          {"list-1964", "p. 6", at},
		"list-1964":                {"list-1964", "", at},
		"list-1964,":               {"list-1964", "", at},
		" list-1964 ,  cover ":     {"list-1964", "cover", at},
		"list-1964, p. 6, line 2":  {"list-1964", "p. 6, line 2", at},
		"example-0007":             {"example-0007", "", at},
		"1964, p. 6":               {"1964", "p. 6", at},
		"a-1, “The oval”, sheet 4": {"a-1", "“The oval”, sheet 4", at},
	} {
		c, err := ParseCitation(text, at)
		if err != nil || c != want {
			t.Errorf("%q: %+v, %v", text, c, err)
		}
	}
	for text, help := range map[string]string{
		"":                    "leave the entry out",
		" ":                   "leave the entry out",
		"p. 6":                "in quotes",
		"sheet 4":             "in quotes",
		"List 1964, p. 6":     "\"list-1964\"",
		"halvane_list":        "\"halvane-list\"",
		"-list":               "perhaps \"list\"",
		"Ü":                   "small letters",
		"../etc/passwd, p. 6": "\"etc-passwd\"",
		"list:1964":           "\"list-1964\"",
	} {
		_, err := ParseCitation(text, at)
		var m *Malformed
		if !errors.As(err, &m) || m.Check != CheckMalformedCite || !strings.Contains(m.Help, help) {
			t.Errorf("%q: %v", text, err)
		}
	}
}

func TestCitationRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.StringMatching(`[a-z0-9]{1,8}(-[a-z0-9]{1,4})?(, [A-Za-z0-9.;: ]{0,12}[a-z])?`).Draw(t, "text")
		c, err := ParseCitation(text, Pos{})
		if err != nil {
			t.Fatal(err)
		}
		again, err := ParseCitation(c.String(), Pos{})
		if err != nil || again != c {
			t.Fatalf("%q: %+v, then %+v, %v", text, c, again, err)
		}
	})
}

func TestNearest(t *testing.T) {
	known := []string{"maker", "made", "model", "features", "riser-wood", "stabiliser-socket"}
	for name, want := range map[string]string{
		"makr": "maker", "mkaer": "maker", "Maker": "maker", "mad": "made", "feature": "features", "riser wood": "riser-wood",
		"riser_wood": "riser-wood", "stabilizer-socket": "stabiliser-socket", "modle": "model", "RISER-WOOD": "riser-wood",
		"colour": "", "": "", "x": "", "wood": "", "zzzzz": "", strings.Repeat("m", 200): "",
	} {
		got, ok := Nearest(name, known)
		if got != want || ok != (want != "") {
			t.Errorf("%q: %q, %v", name, got, ok)
		}
	}
	if got, _ := Nearest("bat", []string{"cat", "rat"}); got != "cat" {
		t.Errorf("of two equally near the first is %q", got)
	}
	if _, ok := Nearest("a", nil); ok {
		t.Error("something is near among nothing")
	}
}
