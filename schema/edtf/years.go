package edtf

import "slices"

// Years is what a span means in whole years: possible from A, certain from B,
// certain to C, possible to D, with A <= B, C <= D and A <= D. Where B > C no
// year is certain.
//
// The start lies somewhere in A..B and the end somewhere in C..D, each year
// alike and independently. A OneOf is one unknown year, start and end at once:
// A = C is the first it can be and B = D the last. An AllOf has A = B and
// C = D at its first and last year.
type Years struct {
	A, B, C, D int
	Members    []int // the years of a OneOf or AllOf, sorted; nil for an interval, and where every year of A..D is meant
	Choice     Shape // Interval, OneOf or AllOf
}

// OverRange gives years that are certain throughout r.
func OverRange(r Range) Years {
	if r.Last < r.First {
		return none(Interval)
	}
	return Years{A: r.First, B: r.First, C: r.Last, D: r.Last, Choice: Interval}
}

// none gives years of which none is possible.
func none(choice Shape) Years { return Years{A: 1, B: 0, C: 1, D: 0, Choice: choice} }

// ofMembers gives the years of a set from its runs, in order and disjoint. A
// set with gaps and more than MaxMembers years is taken as all from its first
// to its last.
func ofMembers(runs []Range, choice Shape) Years {
	if len(runs) == 0 {
		return none(choice)
	}
	first, last, count := runs[0].First, runs[len(runs)-1].Last, 0
	for _, r := range runs {
		count = min(count+r.Last-r.First+1, MaxMembers+1)
	}
	var members []int
	if count <= MaxMembers {
		members = make([]int, 0, count)
		for _, r := range runs {
			for year := r.First; year <= r.Last; year++ {
				members = append(members, year)
			}
		}
	}
	return bounding(Range{first, last}, members, choice)
}

// bounding gives the years of a set from its first and last year.
func bounding(hull Range, members []int, choice Shape) Years {
	y := Years{A: hull.First, B: hull.First, C: hull.Last, D: hull.Last, Members: members, Choice: choice}
	if choice == OneOf {
		y.B, y.C = hull.Last, hull.First
	}
	return y
}

// Membership is how far the year belongs, from 0 to 1: the chance that the
// start is not after it times the chance that the end is not before it; in a
// OneOf of n years 1/n for each, in an AllOf 1 for each.
func (y Years) Membership(year int) float64 {
	if y.Empty() || year < y.A || year > y.D {
		return 0
	}
	if y.Members != nil {
		if _, found := slices.BinarySearch(y.Members, year); !found {
			return 0
		}
	}
	switch y.Choice {
	case OneOf:
		return 1 / y.count()
	case AllOf:
		return 1
	}
	return upTo(year, y.A, y.B) * upTo(-year, -y.D, -y.C)
}

// upTo is the chance that a year drawn evenly from first..last is not after the given one.
func upTo(year, first, last int) float64 {
	if year >= last {
		return 1
	}
	return (float64(year) - float64(first) + 1) / (float64(last) - float64(first) + 1)
}

// count is the number of years in a set.
func (y Years) count() float64 {
	if y.Members != nil {
		return float64(len(y.Members))
	}
	return float64(y.D) - float64(y.A) + 1
}

// Possible says whether the year can belong: Membership above 0.
func (y Years) Possible(year int) bool { return y.Membership(year) > 0 }

// Empty says that no year is possible.
func (y Years) Empty() bool {
	return y.A > y.B || y.C > y.D || y.A > y.D || y.Members != nil && len(y.Members) == 0
}

// Certain gives the longest stretch of years (the first of several as long)
// of which every one is certain: Membership 1. ok is false where no year is.
// Only an AllOf with gaps has more than one stretch; CertainRuns gives all.
func (y Years) Certain() (longest Range, ok bool) {
	for i, r := range y.CertainRuns() {
		if i == 0 || r.Last-r.First > longest.Last-longest.First {
			longest = r
		}
	}
	return longest, !y.Empty() && y.B <= y.C
}

// CertainRuns gives every stretch of years of which all are certain, in order.
func (y Years) CertainRuns() []Range {
	switch {
	case y.Empty() || y.B > y.C:
		return nil
	case y.Members == nil:
		return []Range{{y.B, y.C}}
	}
	return Runs(y.Members)
}

// Overlaps says whether both may hold a year in common.
func (y Years) Overlaps(other Years) bool {
	return !y.Empty() && !other.Empty() && y.A <= other.D && other.A <= y.D
}

// Within says whether every possible year lies in r.
func (y Years) Within(r Range) bool { return y.Empty() || r.First <= y.A && y.D <= r.Last }

// Narrow gives what is left once the start is known to lie in start and the
// end in end. A OneOf keeps the years that lie in both, its one year being
// start and end at once. An AllOf drops the years before start.First and after
// end.Last; its first and last year must then lie in start and in end. Where
// nothing is left the result is Empty.
func (y Years) Narrow(start, end Range) Years {
	if y.Choice == OneOf {
		return y.keep(Range{max(start.First, end.First), min(start.Last, end.Last)})
	}
	if y.Choice == AllOf {
		y = y.keep(Range{start.First, end.Last})
	}
	y.A, y.B = max(y.A, start.First), min(y.B, start.Last)
	y.C, y.D = max(y.C, end.First), min(y.D, end.Last)
	if y.Empty() {
		return none(y.Choice)
	}
	return y
}

// Among gives a OneOf with only those of its years that are listed, rising.
func (y Years) Among(years []int) Years {
	if len(years) == 0 {
		return none(y.Choice)
	}
	return bounding(Range{years[0], years[len(years)-1]}, years, y.Choice)
}

// Cut gives what lies within r: a start before r begins with it and an end
// after r ends with it; years of a set that lie outside are dropped. Where
// nothing is left the result is Empty.
func (y Years) Cut(r Range) Years {
	if y.Choice == OneOf || y.Choice == AllOf {
		return y.keep(r)
	}
	if y.Empty() || r.Last < r.First || y.D < r.First || y.A > r.Last {
		return none(y.Choice)
	}
	into := func(year int) int { return min(max(year, r.First), r.Last) }
	y.A, y.B, y.C, y.D = into(y.A), into(y.B), into(y.C), into(y.D)
	return y
}

// keep drops the years of a set that lie outside r.
func (y Years) keep(r Range) Years {
	hull := Range{max(y.A, r.First), min(y.D, r.Last)}
	if y.Empty() || hull.Last < hull.First {
		return none(y.Choice)
	}
	if y.Members == nil {
		return bounding(hull, nil, y.Choice)
	}
	from, _ := slices.BinarySearch(y.Members, hull.First)
	to, found := slices.BinarySearch(y.Members, hull.Last)
	if found {
		to++
	}
	kept := y.Members[from:to:to]
	if len(kept) == 0 {
		return none(y.Choice)
	}
	return bounding(Range{kept[0], kept[len(kept)-1]}, kept, y.Choice)
}
