package assets

import (
	"bytes"
	"encoding/json"
	"errors"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"testing"

	"pgregory.net/rapid"

	"yearmark/bench"
	"yearmark/testdata/need"
)

// benchProgram answers lists of questions by the modules of the page.
const benchProgram = `
import { readMark, COMMON } from "./js/bench/mark.js";
import { stringLength, drawWeight, lightestArrow } from "./js/bench/setup.js";
import { readFileSync } from "node:fs";
const asked = JSON.parse(readFileSync(process.argv[1], "utf8"));
process.stdout.write(JSON.stringify({
  common: COMMON,
  marks: asked.marks.map(({ mark, by }) => readMark(mark, by)),
  setups: asked.setups.map(({ bow, pounds, marked, yours }) => ({
    string: stringLength(bow, asked.rules), weight: drawWeight(pounds, marked, yours, asked.rules), arrow: lightestArrow(pounds, asked.rules) })),
}));
`

type (
	convention struct {
		Before map[string]float64 `json:"before"`
		After  map[string]float64 `json:"after"`
	}
	markCase struct {
		Mark string     `json:"mark"`
		By   convention `json:"by"`
	}
	setupCase struct {
		Bow    float64 `json:"bow"`
		Pounds float64 `json:"pounds"`
		Marked float64 `json:"marked"`
		Yours  float64 `json:"yours"`
	}
	pageAnswers struct {
		Common convention
		Marks  []struct {
			Length, Stamped, Pounds, Draw float64
			Sign, Refused                 string
		}
		Setups []struct{ String, Weight, Arrow []float64 }
	}
)

// stamps are marks as people copy them, good and bad.
var stamps = []string{
	"45", "X45", "45X", "X45X", "45X#", "45#", "X35 @ 28", "45 lb @ 28\"", "45# @ 27½\"", " 42½ ", "45X@28", "50 lbs. @ 28 in", "37.5", "42 ½", "•45", "45•", "45 • @ 28", "•45•",
	"", "X", "45 @", "four", "4545", "45 @ 280", "45 @ 28 @ 28", "45 @ 28''", "45 pounds @ 28 inches", "½", "@", "\x00", "x45", "XX45", "__proto__45", "constructor 45", "45\u00a0@ 28", "45 @ 28”", "弓45", "𝔛45",
	"44444444444444444444444444444444444444444444444444444444444444444", "45 lbX", "X 45", "45 X lb @ 28", `64" X37# @ 28`, "62½ in 40X", "45¼ @ 28", "45 LBS at 28", "64 45", `164" 45`,
}

// TestThePageReadsMarksAsPackageBench holds the page's modules to the package
// on marks that people stamp, on marks made up at random, and on setting up.
func TestThePageReadsMarksAsPackageBench(t *testing.T) {
	by := []convention{convention(bench.CommonConvention), {Before: map[string]float64{"•": -1}, After: map[string]float64{"•": 1}}, {After: map[string]float64{"-": -2}}, {}}
	made := rapid.SliceOfN(rapid.StringOf(rapid.RuneFrom([]rune("X•-45 9.½¾@#lbsinat\"'”\t"))), 400, 400).Example(1)
	var asked struct {
		Rules struct {
			String []float64 `json:"string"`
			Rate   []float64 `json:"rate"`
			Arrow  []float64 `json:"arrow"`
			Beyond float64   `json:"beyond"`
		} `json:"rules"`
		Marks  []markCase  `json:"marks"`
		Setups []setupCase `json:"setups"`
	}
	further, _ := bench.DrawWeight(100, 28, 29)
	asked.Rules.String = []float64{bench.StringLength(0).Low, bench.StringLength(0).High}
	asked.Rules.Rate = []float64{further.Low - 100, further.High - 100}
	asked.Rules.Arrow = []float64{bench.LightestArrow(1).Low, bench.LightestArrow(1).High}
	asked.Rules.Beyond = bench.MaxBeyondMarked
	for _, mark := range append(stamps, made...) {
		for _, b := range by {
			asked.Marks = append(asked.Marks, markCase{mark, b})
		}
	}
	for _, bow := range []float64{54, 62, 66, 70} {
		for _, pounds := range []float64{0, 4, 40, 42.5} {
			for _, yours := range []float64{-1, 0, 20, 26.5, 28, 29, 30, 30.5, 31} {
				asked.Setups = append(asked.Setups, setupCase{bow, pounds, 28, yours}, setupCase{bow, pounds, 0, yours})
			}
		}
	}
	got := answersOfPage(t, asked)
	if !sameConvention(got.Common, convention(bench.CommonConvention)) {
		t.Errorf("the page's common convention is %v", got.Common)
	}
	read, both := 0, 0
	for i, c := range asked.Marks {
		want, err := bench.ReadWeightMark(c.Mark, bench.Convention(c.By))
		is := got.Marks[i]
		if (err != nil) != (is.Refused != "") || err == nil && (is.Length != want.Length || is.Stamped != want.Stamped || is.Pounds != want.Pounds || is.Draw != want.Draw || is.Sign != want.Sign) {
			t.Errorf("%q by %v: the page reads %+v, the package %+v, %v", c.Mark, c.By, is, want, err)
		}
		if err == nil {
			read++
		}
		if errors.Is(err, bench.ErrBothSides) {
			if both++; is.Refused != bench.ErrBothSides.Error() {
				t.Errorf("%q: the page says %q", c.Mark, is.Refused)
			}
		}
	}
	if read < 100 || both < 4 {
		t.Errorf("only %d marks were read and %d had signs on both sides", read, both)
	}
	for i, c := range asked.Setups {
		is := got.Setups[i]
		string, arrow := bench.StringLength(c.Bow), bench.LightestArrow(c.Pounds)
		weight, ok := bench.DrawWeight(c.Pounds, c.Marked, c.Yours)
		if !sameRange(is.String, string, true) || !sameRange(is.Arrow, arrow, true) || !sameRange(is.Weight, weight, ok) {
			t.Errorf("%+v: the page gives %+v, the package %v, %v (%v), %v", c, is, string, weight, ok, arrow)
		}
	}
}

func answersOfPage(t *testing.T, asked any) pageAnswers {
	t.Helper()
	data, err := json.Marshal(asked)
	if err != nil {
		t.Fatal(err)
	}
	file := filepath.Join(t.TempDir(), "asked.json")
	if err := os.WriteFile(file, data, 0o644); err != nil {
		t.Fatal(err)
	}
	run := exec.Command(need.Node(t), "--input-type=module", "-e", benchProgram, file)
	var complaint bytes.Buffer
	run.Stderr = &complaint
	out, err := run.Output()
	if err != nil {
		t.Fatalf("%v: %s", err, complaint.String())
	}
	var got pageAnswers
	if err := json.Unmarshal(out, &got); err != nil {
		t.Fatal(err)
	}
	return got
}

func sameRange(got []float64, want bench.Figure, known bool) bool {
	if !known {
		return got == nil
	}
	return len(got) == 2 && math.Abs(got[0]-want.Low) < 1e-9 && math.Abs(got[1]-want.High) < 1e-9
}

func sameConvention(a, b convention) bool {
	x, _ := json.Marshal(a)
	y, _ := json.Marshal(b)
	return bytes.Equal(x, y)
}
