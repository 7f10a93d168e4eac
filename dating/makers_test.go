package dating_test

import (
	"fmt"
	"math"
	"testing"

	"yearmark/dating"
	"yearmark/schema"
)

// makersRecords: the works mark every model of 1960 to 1964 with an oval but the
// Rook, whose record says nothing of it; the Knot's own claim is of a star in its
// last years; another maker, of whom no model is on record, says nothing.
var makersRecords = map[string][]byte{
	"reference.yaml": []byte("name: Makers\nyears: 1950/1969\njudgement:\n  credence: {factory-paper: 1.0, letter: 0.5}\n  looseness: {usual: 0.1}\n  unrecorded: 0.12\n"),
	"makers/works.md": []byte("---\nrecord: maker\nname: The Works\ntrading: {span: 1955/1964, cites: [ledgers]}\n" +
		"features:\n  - {feature: mark, value: oval, span: 1960/1964, except: [rook], cites: [word]}\n---\n"),
	"makers/other.md":  []byte("---\nrecord: maker\nname: The Others\n---\n"),
	"features/mark.md": []byte("---\nrecord: feature\nname: Mark\nkind: choice\naltered: {to: [star], chance: 0.2}\nvalues: [{id: oval}, {id: star}]\n---\n"),
	"models/knot.md":   []byte("---\nrecord: model\nname: Knot\nmaker: works\nmade: {span: 1958/1963, cites: [ledgers]}\nfeatures:\n  - {feature: mark, value: star, span: 1962/1963, cites: [ledgers]}\n---\n"),
	"models/ruff.md":   []byte("---\nrecord: model\nname: Ruff\nmaker: works\nmade: {span: 1962/1964, cites: [ledgers]}\n---\n"),
	"models/rook.md":   []byte("---\nrecord: model\nname: Rook\nmaker: works\nmade: {span: 1962/1963, cites: [ledgers]}\n---\n"),
}

// TestMakersClaims holds odds against the formulas of the package comment, written
// out here for these records alone. The letter is believed by half, the ledger
// wholly; three values with something else; a tenth of all bows are to order, and
// a fifth have since been given a star.
func TestMakersClaims(t *testing.T) {
	e := engineOf(t, reference(t, makersRecords))
	// chance of an oval mark with the weights of oval and star in a year
	oval := func(ofOval, ofStar float64) float64 {
		kappa, sum := 1-(1-ofOval)*(1-ofStar), ofOval+ofStar
		share := 0.0
		if sum > 0 {
			share = ofOval / sum
		}
		made := kappa*share + (1-kappa)/3
		return .8 * (.9*made + .1/3)
	}
	want := map[string]float64{}
	put := func(model, maker string, first, last int, share float64, chance func(year int) float64) {
		for y := first; y <= last; y++ {
			seen := .98*chance(y) + .02/3
			want[fmt.Sprint(model, "/", maker, "/", y)] = share / float64(last-first+1) * seen
		}
	}
	half := func(y int) float64 {
		if y >= 1960 && y <= 1964 {
			return .5
		}
		return 0
	}
	put("knot", "", 1958, 1963, .88/3, func(y int) float64 {
		if y >= 1962 {
			return oval(.5, 1)
		}
		return oval(half(y), 0)
	})
	put("ruff", "", 1962, 1964, .88/3, func(y int) float64 { return oval(.5, 0) })
	put("rook", "", 1962, 1963, .88/3, func(y int) float64 { return oval(0, 0) })
	put("", "works", 1955, 1964, .12/3, func(y int) float64 { return oval(half(y), 0) })
	put("", "other", 1950, 1969, .12/3, func(y int) float64 { return oval(0, 0) })
	put("", "", 1950, 1969, .12/3, func(y int) float64 { return oval(0, 0) })
	sum := 0.0
	for _, c := range want {
		sum += c
	}
	a, err := e.Date(dating.Question{Observed: []dating.Observation{{Feature: "mark", Values: []string{"oval"}}}})
	if err != nil {
		t.Fatal(err)
	}
	if len(a.Odds) != len(want) {
		t.Errorf("%d pairs, want %d", len(a.Odds), len(want))
	}
	for _, o := range a.Odds {
		if w := want[fmt.Sprint(o.Model, "/", o.Maker, "/", o.Year)] / sum; math.Abs(o.Chance-w) > 1e-12 {
			t.Errorf("%s: %+v, want %v", dating.BowName(e.Reference(), o.Model, o.Maker), o, w)
		}
	}
	if got := fmt.Sprint(a.Strict.Years); got != "[{knot  [1958 1959 1960 1961 1962 1963]} {rook  [1962 1963]} {ruff  [1962 1963 1964]}]" {
		t.Errorf("taken at its word: %s", got)
	}
	if got := a.Evidence[0].Claims; len(got) == 0 || got[0].Claim.Key() != "makers/works/mark-oval" {
		t.Errorf("%+v", got)
	}
}

// TestUnrecorded: what is not on record has its part only where any bow is asked about.
func TestUnrecorded(t *testing.T) {
	e := engineOf(t, reference(t, makersRecords))
	a, err := e.Date(dating.Question{Models: []string{"rook"}})
	if err != nil || len(a.Models) != 1 || a.Models[0].Model != "rook" {
		t.Errorf("%v: %+v", err, a.Models)
	}
	any, err := e.Date(dating.Question{})
	if err != nil {
		t.Fatal(err)
	}
	share := 0.0
	for _, m := range any.Models {
		if m.Model == "" {
			share += m.Chance
		}
	}
	if math.Abs(share-.12) > 1e-12 || len(any.Models) != 6 {
		t.Errorf("%v of %d", share, len(any.Models))
	}
	if _, err := e.Date(dating.Question{Models: []string{""}}); err == nil {
		t.Error("a model without a name is taken for one that is not on record")
	}
	none := map[string][]byte{}
	for name, text := range makersRecords {
		none[name] = text
	}
	none["reference.yaml"] = []byte("name: Makers\nyears: 1950/1969\njudgement: {unrecorded: 0}\n")
	if n := len(engineOf(t, reference(t, none)).Table().Models); n != 3 {
		t.Errorf("%d models where nothing is unrecorded", n)
	}
	if d := schema.DefaultJudgement().Unrecorded.Value; d != .10 {
		t.Errorf("the default is %v", d)
	}
}

// TestSpecialOrders: by hand. From 1962 on the works let customers choose the mark,
// so that e is .2 in the place of .1; of 1962 that holds with a chance of a half.
func TestSpecialOrders(t *testing.T) {
	records := map[string][]byte{}
	for name, text := range makersRecords {
		records[name] = text
	}
	records["makers/works.md"] = []byte("---\nrecord: maker\nname: The Works\ntrading: {span: 1955/1964, cites: [ledger]}\nspecial-orders: {features: [mark], span: {from: 1962..1963, to: 1964}, cites: [word]}\n---\n")
	records["reference.yaml"] = []byte("name: Makers\nyears: 1950/1969\njudgement:\n  credence: {letter: 0.5}\n  looseness: {usual: 0.1, loose: 0.2}\n  unrecorded: 0\n")
	e := engineOf(t, reference(t, records))
	mark, _ := e.FeatureAt("mark")
	model, _ := e.ModelAt("knot")
	of := e.Table().Models[model]
	for pair := of.Start; pair < of.End; pair++ {
		loose, w := .1, 0.0
		switch e.Table().Years[pair] {
		case 1962:
			loose, w = .15, 1
		case 1963:
			loose, w = .2, 1
		}
		want := .8*((1-loose)*(w+(1-w)/3)+loose/3) + .2 // a star, and a fifth have one since
		f := &e.Table().Features[mark]
		row := &f.Rows[f.RowOf[pair]]
		got := row.Rest
		for _, c := range row.Cells {
			if c.From <= 1 && 1 <= c.To {
				got = c.Chance
			}
		}
		if math.Abs(got-want) > 1e-9 {
			t.Errorf("%d: %v, want %v", e.Table().Years[pair], got, want)
		}
	}
}
