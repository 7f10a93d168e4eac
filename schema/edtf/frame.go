package edtf

// Frame is what an expression needs from outside to become years.
type Frame struct {
	Horizon Range // the years in which anything can fall: where ".." ends
	Made    Range // the made span: where an unknown end is sought; the zero Range means Horizon
	Circa   int   // how many years "~" may be out by, 0 or more
}

// MaxYear is the largest year, and -MaxYear the smallest, that is read.
const MaxYear = 999_999_999

// MaxMembers is the largest number of years that Years lists one by one.
const MaxMembers = 10_000

// Years gives what the expression means in whole years, by the table of the
// package comment. The zero Expr means no year. Nothing is cut to the frame:
// years beyond it are for the caller to find and to Cut.
func (e Expr) Years(f Frame) Years {
	f = f.bounded()
	switch {
	case e.IsZero():
		return none(Interval)
	case e.shape == OneOf || e.shape == AllOf:
		return e.set(f)
	}
	return e.span(f)
}

// span gives the four years of a date or an interval.
func (e Expr) span(f Frame) Years {
	start, end := e.start.widened(f.Circa), e.end.widened(f.Circa)
	y := Years{A: start.First, B: start.Last, C: end.First, D: end.Last, Choice: Interval}
	switch e.start.kind {
	case open:
		y.A = min(f.Made.First, y.C)
		y.B = y.A
	case unknown:
		y.A, y.B = min(f.Made.First, y.C), y.D
	}
	switch e.end.kind {
	case open:
		y.D = max(f.Horizon.Last, y.B)
		y.C = y.D
	case unknown:
		y.C, y.D = y.A, max(f.Made.Last, y.B)
	}
	return y
}

// set gives the years of a OneOf or AllOf.
func (e Expr) set(f Frame) Years {
	runs := make([]Range, 0, len(e.parts)+2)
	for _, p := range e.parts {
		runs = append(runs, edgeOver(p.years, written, p.about).widened(f.Circa))
	}
	if to := e.start.years().Last; e.start.kind == open {
		runs = append(runs, Range{min(f.Horizon.First, to), to})
	}
	if from := e.end.years().First; e.end.kind == open {
		runs = append(runs, Range{from, max(f.Horizon.Last, from)})
	}
	return ofMembers(merge(runs), e.shape)
}

// widened gives the years in which an end may lie once "~" is allowed for.
func (e edge) widened(circa int) Range {
	years := e.years()
	if !e.about {
		return years
	}
	return Range{years.First - circa, years.Last + circa}
}

// bounded gives the frame with defaults filled in and nothing beyond what can be counted.
func (f Frame) bounded() Frame {
	if f.Made == (Range{}) {
		f.Made = f.Horizon
	}
	f.Made, f.Horizon = f.Made.bounded(), f.Horizon.bounded()
	f.Circa = min(max(f.Circa, 0), MaxYear)
	return f
}

func (r Range) bounded() Range {
	return Range{min(max(r.First, -MaxYear), MaxYear), min(max(r.Last, -MaxYear), MaxYear)}
}
