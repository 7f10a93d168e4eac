package edtf

// Shape says how the years of an expression hang together.
type Shape uint8

// The four shapes.
const (
	Single   Shape = iota // one date: 1964, 1964-05, 2004-XX
	Interval              // from one date to another: 1964/1967
	OneOf                 // one year, not known which: 196X, [1966,1968]
	AllOf                 // every year named and no other: {1960,1962}
)

// String names the shape in small letters.
func (s Shape) String() string {
	switch s {
	case Single:
		return "single"
	case Interval:
		return "interval"
	case OneOf:
		return "one of"
	case AllOf:
		return "all of"
	}
	return "unknown shape"
}

// Range is a stretch of whole calendar years, both ends inclusive. Year 0 is
// 1 BC. A Range whose Last lies before its First holds no year.
type Range struct{ First, Last int }

// Has says whether the year lies in the range.
func (r Range) Has(year int) bool { return r.First <= year && year <= r.Last }

// Expr is a parsed EDTF expression. The zero Expr is "nothing written". Two
// expressions say the same only if they are written the same: see Equal.
type Expr struct {
	text        string
	start, end  edge
	parts       []part // the years of a OneOf or AllOf, in order and disjoint
	shape       Shape
	level       uint8
	doubted     bool
	approximate bool
}

// edge is one end of an expression: the years in which it may lie.
type edge struct {
	first, last int32 // the years, where it is written; int32 since a large reference has a million
	kind        edgeKind
	about       bool // the year is approximate
}

// edgeOver gives an end that may lie anywhere in r.
func edgeOver(r Range, kind edgeKind, about bool) edge {
	return edge{int32(r.First), int32(r.Last), kind, about}
}

func (e edge) years() Range { return Range{int(e.first), int(e.last)} }

type edgeKind uint8

const (
	written edgeKind = iota
	open             // ".."
	unknown          // left empty
)

// part is a run of adjoining years of a set.
type part struct {
	years Range
	about bool
}

// String gives the expression as it was written.
func (e Expr) String() string { return e.text }

// IsZero says that nothing was written.
func (e Expr) IsZero() bool { return e.text == "" }

// Equal says whether both are written the same.
func (e Expr) Equal(other Expr) bool { return e.text == other.text }

// Level is the lowest level of EDTF that allows the expression: 0, 1 or 2.
func (e Expr) Level() int { return int(e.level) }

// Shape says how the years hang together.
func (e Expr) Shape() Shape { return e.shape }

// Earliest is the first calendar year that the expression touches; a mark (?,
// ~ or %) does not move it. ok is false where the start is open or unknown.
func (e Expr) Earliest() (year int, ok bool) {
	if e.IsZero() || e.start.kind != written {
		return 0, false
	}
	return e.start.years().First, true
}

// Latest is the last calendar year that the expression touches; a mark does
// not move it. ok is false where the end is open or unknown.
func (e Expr) Latest() (year int, ok bool) {
	if e.IsZero() || e.end.kind != written {
		return 0, false
	}
	return e.end.years().Last, true
}

// Doubted says that a ? or % stands anywhere in the expression. It moves no
// year; whoever weighs the statement halves its credence.
func (e Expr) Doubted() bool { return e.doubted }

// Approximate says that a ~ or % stands anywhere in the expression. Only one
// that covers a year moves that year: in "2004-06-~11" none does.
func (e Expr) Approximate() bool { return e.approximate }
