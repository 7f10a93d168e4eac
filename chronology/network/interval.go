package network

// Interval is a span of whole years: its first year and its last, both
// included. For relations it is read as [Start, End+1), so that a span of one
// year has a length and 1950-1955 meets 1956-1960.
type Interval struct{ Start, End Point }

// AddInterval adds a span that ends no earlier than it starts.
func (n *Network) AddInterval() Interval {
	i := Interval{Start: n.AddPoint(), End: n.AddPoint()}
	n.Constrain(i.End, i.Start, 0, Given)
	return i
}

// Within states that the inner span lies inside the outer one; they may share ends.
func (n *Network) Within(inner, outer Interval, tag Tag) {
	n.Constrain(inner.Start, outer.Start, 0, tag)
	n.Constrain(outer.End, inner.End, 0, tag)
}

// Lasts states that the span holds lo..hi whole years.
func (n *Network) Lasts(i Interval, lo, hi int, tag Tag) {
	n.Constrain(i.End, i.Start, 1-lo, tag)
	n.Constrain(i.Start, i.End, hi-1, tag)
}

// Relate states that a stands in the relation to b.
func (n *Network) Relate(r Relation, a, b Interval, tag Tag) {
	points := [...]Point{firstStart: a.Start, firstEnd: a.End, secondStart: b.Start, secondEnd: b.End}
	for _, g := range relations[r].gaps {
		n.Constrain(points[g.from], points[g.to], g.most, tag)
	}
}

// Relation is one of the thirteen ways in which two spans can lie (J. F. Allen,
// Maintaining knowledge about temporal intervals, Communications of the ACM
// 26(11), 1983, 832-843). Exactly one holds between any two spans.
type Relation uint8

// The thirteen relations, from wholly before to wholly after.
const (
	Before       Relation = iota // ends, and at least one year passes before the other starts
	Meets                        // the other starts the year after
	Overlaps                     // starts first, ends first, shares a year
	FinishedBy                   // starts first, ends with the other
	Contains                     // starts first, ends last
	Starts                       // starts with the other, ends first
	Equals                       // the same years
	StartedBy                    // starts with the other, ends last
	During                       // starts last, ends first
	Finishes                     // starts last, ends with the other
	OverlappedBy                 // starts last, ends last, shares a year
	MetBy                        // starts the year after the other ends
	After                        // at least one year passes after the other ends
)

// Relations lists the thirteen in order.
var Relations = [...]Relation{Before, Meets, Overlaps, FinishedBy, Contains, Starts, Equals,
	StartedBy, During, Finishes, OverlappedBy, MetBy, After}

// String gives the relation's name as records write it: "finished-by".
func (r Relation) String() string { return relations[r].name }

// RelationNamed finds a relation by its name.
func RelationNamed(name string) (Relation, bool) {
	for _, r := range Relations {
		if relations[r].name == name {
			return r, true
		}
	}
	return 0, false
}

// The four ends that a relation speaks of.
const (
	firstStart = iota
	firstEnd
	secondStart
	secondEnd
)

// gap says that the end to comes at most so many years after the end from.
type gap struct{ from, to, most int }

// lead says that end x comes at least so many years before end y.
func lead(x, y, years int) gap { return gap{from: y, to: x, most: -years} }

var relations = [...]struct {
	name string
	gaps []gap
}{
	Before:     {"before", []gap{lead(firstEnd, secondStart, 2)}},
	Meets:      {"meets", []gap{lead(firstEnd, secondStart, 1), lead(secondStart, firstEnd, -1)}},
	Overlaps:   {"overlaps", []gap{lead(firstStart, secondStart, 1), lead(secondStart, firstEnd, 0), lead(firstEnd, secondEnd, 1)}},
	FinishedBy: {"finished-by", []gap{lead(firstStart, secondStart, 1), lead(firstEnd, secondEnd, 0), lead(secondEnd, firstEnd, 0)}},
	Contains:   {"contains", []gap{lead(firstStart, secondStart, 1), lead(secondEnd, firstEnd, 1)}},
	Starts:     {"starts", []gap{lead(firstStart, secondStart, 0), lead(secondStart, firstStart, 0), lead(firstEnd, secondEnd, 1)}},
	Equals: {"equals", []gap{lead(firstStart, secondStart, 0), lead(secondStart, firstStart, 0),
		lead(firstEnd, secondEnd, 0), lead(secondEnd, firstEnd, 0)}},
	StartedBy:    {"started-by", []gap{lead(firstStart, secondStart, 0), lead(secondStart, firstStart, 0), lead(secondEnd, firstEnd, 1)}},
	During:       {"during", []gap{lead(secondStart, firstStart, 1), lead(firstEnd, secondEnd, 1)}},
	Finishes:     {"finishes", []gap{lead(secondStart, firstStart, 1), lead(firstEnd, secondEnd, 0), lead(secondEnd, firstEnd, 0)}},
	OverlappedBy: {"overlapped-by", []gap{lead(secondStart, firstStart, 1), lead(firstStart, secondEnd, 0), lead(secondEnd, firstEnd, 1)}},
	MetBy:        {"met-by", []gap{lead(secondEnd, firstStart, 1), lead(firstStart, secondEnd, -1)}},
	After:        {"after", []gap{lead(secondEnd, firstStart, 2)}},
}
