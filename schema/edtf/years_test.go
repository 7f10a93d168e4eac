package edtf

import (
	"math"
	"math/big"
	"strconv"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// testFrame is the frame of years.tsv and membership.tsv.
func testFrame(circa int) Frame {
	return Frame{Horizon: Range{1930, 1985}, Made: Range{1955, 1975}, Circa: circa}
}

func TestYears(t *testing.T) {
	for _, row := range table(t, "years.tsv") {
		want := Years{A: number(t, row["A"]), B: number(t, row["B"]), C: number(t, row["C"]), D: number(t, row["D"])}
		for _, s := range []Shape{Interval, OneOf, AllOf} {
			if s.String() == row["choice"] {
				want.Choice = s
			}
		}
		if row["members"] != "-" {
			for _, cell := range strings.Fields(row["members"]) {
				want.Members = append(want.Members, number(t, cell))
			}
		}
		got := must(t, row["expression"]).Years(testFrame(number(t, row["circa"])))
		if diff := cmp.Diff(want, got); diff != "" {
			t.Errorf("%s (%s), want - got +:\n%s", row["expression"], row["source"], diff)
		}
	}
}

func TestMembership(t *testing.T) {
	for _, row := range table(t, "membership.tsv") {
		fraction, ok := new(big.Rat).SetString(row["membership"])
		if !ok {
			t.Fatalf("%q is no fraction", row["membership"])
		}
		want, _ := fraction.Float64()
		years := must(t, row["expression"]).Years(testFrame(number(t, row["circa"])))
		year := number(t, row["year"])
		if got := years.Membership(year); math.Abs(got-want) > 1e-15 {
			t.Errorf("%s in %d: %v, want %s %s", row["expression"], year, got, row["membership"], row["why"])
		}
		if got := years.Possible(year); got != (want > 0) {
			t.Errorf("%s in %d: possible %v", row["expression"], year, got)
		}
	}
}

func TestZero(t *testing.T) {
	var e Expr
	_, okFirst := e.Earliest()
	_, okLast := e.Latest()
	if !e.IsZero() || okFirst || okLast || e.String() != "" || e.Words() != "" || !e.Years(testFrame(2)).Empty() {
		t.Errorf("the zero Expr says something: %+v", e)
	}
	if must(t, "1964").IsZero() {
		t.Error("1964 is said to be nothing")
	}
}

// An expression without a made span is sought in the horizon.
func TestMadeDefaultsToHorizon(t *testing.T) {
	f := Frame{Horizon: Range{1930, 1985}}
	if got := must(t, "1964/").Years(f).D; got != 1985 {
		t.Errorf("an unknown end goes to %d, want 1985", got)
	}
	if got := must(t, "../1964").Years(f).A; got != 1930 {
		t.Errorf("an open start begins %d, want 1930", got)
	}
}

func TestCertain(t *testing.T) {
	for _, test := range []struct {
		written string
		longest Range
		ok      bool
		runs    int
	}{
		{"1964/1967", Range{1964, 1967}, true, 1},
		{"1964~/1967", Range{1966, 1967}, true, 1},
		{"1964~", Range{}, false, 0},
		{"196X", Range{}, false, 0},
		{"[1964]", Range{1964, 1964}, true, 1},
		{"{1960,1962}", Range{1960, 1960}, true, 2},
		{"{1960,1962..1964,1970..1971}", Range{1962, 1964}, true, 3},
	} {
		years := must(t, test.written).Years(testFrame(2))
		longest, ok := years.Certain()
		if ok != test.ok || longest != test.longest || len(years.CertainRuns()) != test.runs {
			t.Errorf("%s: %v %v %v, want %v %v and %d runs", test.written, longest, ok, years.CertainRuns(), test.longest, test.ok, test.runs)
		}
	}
}

func TestNarrowAndCut(t *testing.T) {
	wide := Range{1900, 2000}
	for _, test := range []struct{ written, narrowed, cut string }{
		// narrowed: start in 1963..1964, end in 1966..1967; cut: to 1963..1966
		{"1964~/1967", "1964–1967, possibly from 1963", "1966, possibly from 1963"},
		{"1950/1980", "no year", "1963–1966"},
		{"1964~", "1964–1966, possibly from 1963", "some time in 1963–1966"},
		{"196X", "no year", "one year of 1963–1966"},
		{"{1960,1964,1966,1970}", "1964 and 1966", "1964 and 1966"},
		{"{1964,1965}", "no year", "1964–1965"},
		{"1970", "no year", "no year"},
	} {
		y := must(t, test.written).Years(testFrame(2))
		if got := y.Narrow(Range{1963, 1964}, Range{1966, 1967}).String(); got != test.narrowed {
			t.Errorf("%s narrowed: %s, want %s", test.written, got, test.narrowed)
		}
		if got := y.Cut(Range{1963, 1966}).String(); got != test.cut {
			t.Errorf("%s cut: %s, want %s", test.written, got, test.cut)
		}
		if diff := cmp.Diff(y, y.Narrow(wide, wide)); diff != "" {
			t.Errorf("%s changes when nothing is known:\n%s", test.written, diff)
		}
	}
	one := must(t, "[1963,1965,1967]").Years(testFrame(2)).Narrow(Range{1964, 1970}, Range{1964, 1970})
	if got := one.Membership(1965); got != 0.5 {
		t.Errorf("one of two that are left: %v, want 0.5", got)
	}
}

func TestNothingIsListedBeyondMeasure(t *testing.T) {
	for written, listed := range map[string]bool{"[0001..9999]": true, "XXXX": true, "[0001..Y170000002]": false, "Y171010000S3": false, "{..Y170000002}": false, "[0001,0003..Y999999999]": false} {
		y := must(t, written).Years(testFrame(2))
		if (y.Members != nil) != listed || len(y.Members) > MaxMembers {
			t.Errorf("%s lists %d years", written, len(y.Members))
		}
		if y.Membership(5000) == 0 && written != "Y171010000S3" {
			t.Errorf("%s leaves 5000 out", written)
		}
		if cut := y.Cut(Range{1960, 1969}); cut.Choice == OneOf && !cut.Empty() && cut.Membership(1964) != 0.1 {
			t.Errorf("%s cut to ten years gives 1964 %v", written, cut.Membership(1964))
		}
	}
	gaps := "[" + strings.TrimSuffix(strings.Repeat("XXXX-02-29,", 180), ",") + "]"
	if e, err := Parse(gaps); err == nil {
		t.Errorf("a set of %d runs is read", len(e.parts))
	}
	huge := must(t, "1964~/..").Years(Frame{Horizon: Range{math.MinInt, math.MaxInt}, Made: Range{math.MinInt, math.MaxInt}, Circa: math.MaxInt})
	if huge.A > huge.B || huge.C > huge.D || huge.A > huge.D {
		t.Errorf("a frame without measure gives %+v", huge)
	}
}

func TestOverRange(t *testing.T) {
	y := OverRange(Range{1964, 1967})
	if r, ok := y.Certain(); !ok || r != (Range{1964, 1967}) || y.Membership(1963) != 0 || y.Membership(1967) != 1 {
		t.Errorf("%+v", y)
	}
	if !y.Within(Range{1964, 1967}) || y.Within(Range{1965, 1967}) || y.Within(Range{1964, 1966}) {
		t.Error("Within")
	}
	if !OverRange(Range{1967, 1964}).Empty() {
		t.Error("a reversed range holds a year")
	}
}

// The traps of dates that have caught other readers, one by one.
func TestTraps(t *testing.T) {
	if got := must(t, "1950S2").Shape(); got != OneOf {
		t.Errorf("1950S2 is %v", got)
	}
	open, unknown := must(t, "1985/..").Years(testFrame(2)), must(t, "1985/").Years(Frame{Horizon: Range{1930, 1999}})
	if cmp.Equal(open, unknown) {
		t.Error("an open and an unknown end are the same")
	}
	one, all := must(t, "[1667,1668]"), must(t, "{1667,1668}")
	if one.Equal(all) || cmp.Equal(one, all) || cmp.Equal(one.Years(testFrame(2)), all.Years(testFrame(2))) {
		t.Error("one of and all of are the same")
	}
	for _, s := range []string{"2004-06/2004", "2001-24/2001-21", "1985-04-12/1985-04-12", "2004-12/2004-12-03"} {
		must(t, s)
	}
	for _, s := range []string{"2004-06/2004-05", "2004-02-02/2004-02-01", "2001-36/2001-33", "-0044/-0045", "2004-06-XX/2004-05-XX"} {
		if e, err := Parse(s); err == nil {
			t.Errorf("%s is reversed and read as %v", s, e)
		}
	}
}

func TestSyntaxErrorReadsWell(t *testing.T) {
	_, err := Parse("1950–1960")
	want := `date "1950–1960" cannot be read: a stroke stands between the first and the last year; write 1950/1960 for the whole span, or [1950..1960] for one year of it`
	if err == nil || err.Error() != want {
		t.Errorf("%v\nwant %s", err, want)
	}
	_, err = Parse(strings.Repeat("é", 5000))
	if f, ok := err.(*SyntaxError); !ok || len(f.Error()) > 300 || !strings.Contains(f.Error(), strconv.Itoa(MaxLength)) && f.Offset != MaxLength {
		t.Errorf("a long text: %v", err)
	}
}
