package edtf

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"pgregory.net/rapid"
)

var (
	anyText = rapid.Custom(func(t *rapid.T) string {
		return writer{rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 1))}.expression()
	})
	anyRange = rapid.Custom(func(t *rapid.T) Range {
		first := rapid.IntRange(1690, 2110).Draw(t, "first")
		return Range{first, first + rapid.IntRange(-3, 60).Draw(t, "length")}
	})
	anyFrame = rapid.Custom(func(t *rapid.T) Frame {
		return Frame{anyRange.Draw(t, "horizon"), anyRange.Draw(t, "made"), rapid.IntRange(0, 6).Draw(t, "circa")}
	})
)

// anyExpr draws an expression that can be read.
func anyExpr(t *rapid.T) Expr {
	e, err := Parse(anyText.Filter(readable).Draw(t, "text"))
	if err != nil {
		t.Fatal(err)
	}
	return e
}

// checkOrder holds what every Years promises about its bounds.
func checkOrder(t rapid.TB, y Years) {
	if y.Empty() {
		if y.Members != nil {
			t.Fatalf("an empty Years has members: %+v", y)
		}
		return
	}
	if y.A > y.B || y.C > y.D || y.A > y.D {
		t.Fatalf("bounds out of order: %+v", y)
	}
	if len(y.Members) > MaxMembers || !slices.IsSorted(y.Members) {
		t.Fatalf("members out of order: %+v", y)
	}
	if y.Members != nil && (y.Members[0] != y.A || y.Members[len(y.Members)-1] != y.D) {
		t.Fatalf("members and bounds differ: %+v", y)
	}
}

func TestReadingLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := anyText.Draw(t, "text")
		e, err := Parse(text)
		if err != nil {
			checkFaultLaw(t, text, err)
			return
		}
		again, err := Parse(e.String())
		if err != nil || e.String() != text || !again.Equal(e) {
			t.Fatalf("%q comes back as %q, %v", text, again, err)
		}
		first, okFirst := e.Earliest()
		last, okLast := e.Latest()
		if okFirst && okLast && first > last {
			t.Fatalf("%q goes from %d to %d", text, first, last)
		}
		if e.Level() < 0 || e.Level() > 2 || e.Words() == "" {
			t.Fatalf("%q: level %d, words %q", text, e.Level(), e.Words())
		}
		checkOrder(t, e.Years(anyFrame.Draw(t, "frame")))
	})
}

func checkFaultLaw(t rapid.TB, text string, err error) {
	f, ok := err.(*SyntaxError)
	if !ok || f.Text != text || f.Offset < 0 || f.Offset > len(text) || f.Reason == "" || f.Remedy == "" {
		t.Fatalf("%q: incomplete: %#v", text, err)
	}
	for _, instead := range f.Instead {
		if !readable(instead) {
			t.Fatalf("%q: offers %q, which cannot be read", text, instead)
		}
	}
}

// Membership against its definition: every possible pair of start and end counted.
func TestMembershipIsShareOfPairs(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		y := anyExpr(t).Years(anyFrame.Draw(t, "frame"))
		if rapid.Bool().Draw(t, "narrow") {
			y = y.Narrow(anyRange.Draw(t, "start"), anyRange.Draw(t, "end"))
		}
		year := rapid.IntRange(1680, 2120).Draw(t, "year")
		got := y.Membership(year)
		if got < 0 || got > 1 {
			t.Fatalf("%+v in %d: %v", y, year, got)
		}
		if y.D-y.A > 20_000 {
			return
		}
		if want := shareOfPairs(y, year); math.Abs(got-want) > 1e-12 {
			t.Fatalf("%+v in %d: %v, want %v", y, year, got, want)
		}
	})
}

func shareOfPairs(y Years, year int) float64 {
	if y.Empty() || year < y.A || year > y.D {
		return 0
	}
	switch y.Choice {
	case OneOf, AllOf:
		members := y.Members
		if members == nil {
			members = yearsOf(y.A, y.D)
		}
		if !slices.Contains(members, year) {
			return 0
		}
		if y.Choice == AllOf {
			return 1
		}
		return 1 / float64(len(members))
	}
	starts, ends := yearsOf(y.A, y.B), yearsOf(y.C, y.D)
	before, after := 0, 0
	for _, s := range starts {
		if s <= year {
			before++
		}
	}
	for _, e := range ends {
		if e >= year {
			after++
		}
	}
	return float64(before) * float64(after) / float64(len(starts)*len(ends))
}

func yearsOf(first, last int) []int {
	var years []int
	for y := first; y <= last; y++ {
		years = append(years, y)
	}
	return years
}

func TestNarrowNeverWidens(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		y := anyExpr(t).Years(anyFrame.Draw(t, "frame"))
		start, end := anyRange.Draw(t, "start"), anyRange.Draw(t, "end")
		n := y.Narrow(start, end)
		checkOrder(t, n)
		if n.Empty() {
			return
		}
		// A set of years all meant has no start or end apart from its years: those
		// that lie too early or too late are dropped, and all others are kept.
		if n.A < y.A || n.D > y.D || y.Choice != AllOf && (n.B > y.B || n.C < y.C) {
			t.Fatalf("%+v narrowed to %+v", y, n)
		}
		if n.A < start.First || n.B > start.Last || n.C < end.First || n.D > end.Last {
			t.Fatalf("%+v narrowed beyond %v and %v: %+v", y, start, end, n)
		}
		year := rapid.IntRange(1680, 2120).Draw(t, "year")
		if n.Possible(year) && !y.Possible(year) {
			t.Fatalf("%d is possible in %+v and not in %+v", year, n, y)
		}
		if kept := y.Possible(year) && start.First <= year && year <= end.Last; y.Choice == AllOf && kept != (n.Membership(year) == 1) {
			t.Fatalf("%d in %+v narrowed to %v and %v (%+v): %v", year, y, start, end, n, !kept)
		}
		if y.Membership(year) == 1 && n.Membership(year) != 1 && y.Choice == Interval {
			t.Fatalf("%d was certain in %+v and is not in %+v", year, y, n)
		}
		if again := n.Narrow(start, end); again.String() != n.String() {
			t.Fatalf("%+v narrowed twice gives %+v", n, again)
		}
	})
}

func TestCutKeepsWithin(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		y := anyExpr(t).Years(anyFrame.Draw(t, "frame"))
		r := anyRange.Draw(t, "range")
		cut := y.Cut(r)
		checkOrder(t, cut)
		if !cut.Within(r) {
			t.Fatalf("%+v cut to %v gives %+v", y, r, cut)
		}
		year := rapid.IntRange(1680, 2120).Draw(t, "year")
		if got, want := cut.Possible(year), y.Possible(year) && r.Has(year); got != want {
			t.Fatalf("%d in %+v cut to %v (%+v): %v", year, y, r, cut, got)
		}
	})
}

func TestCertainIsMembershipOne(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		y := anyExpr(t).Years(anyFrame.Draw(t, "frame"))
		year := rapid.IntRange(1680, 2120).Draw(t, "year")
		inRun := slices.ContainsFunc(y.CertainRuns(), func(r Range) bool { return r.Has(year) })
		if inRun != (y.Membership(year) == 1) {
			t.Fatalf("%d in %+v: runs %v, membership %v", year, y, y.CertainRuns(), y.Membership(year))
		}
		if longest, ok := y.Certain(); ok != (len(y.CertainRuns()) > 0) || ok && !slices.Contains(y.CertainRuns(), longest) {
			t.Fatalf("%+v: longest %v %v of %v", y, longest, ok, y.CertainRuns())
		}
	})
}
