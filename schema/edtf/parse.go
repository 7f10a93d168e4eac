package edtf

import "strings"

// MaxLength is the longest text, in bytes, that is read as a date.
const MaxLength = 2000

// Parse reads one EDTF expression, exactly as the standard spells it: no
// spaces, capital X and Y; or bounds (see Bounds). The error is a *SyntaxError.
func Parse(s string) (Expr, error) {
	e, f := parse(s)
	if f != nil {
		return Expr{}, advise(s, f)
	}
	return e, nil
}

// parse reads without looking for what else may have been meant.
func parse(s string) (Expr, *SyntaxError) {
	var e Expr
	var f *SyntaxError
	switch {
	case s == "":
		return Expr{}, fault(0, "nothing is written", "write a year, such as 1964, or leave the date out")
	case len(s) > MaxLength:
		return Expr{}, fault(MaxLength, "it is too long to be a date", "write a shorter one")
	case s[0] == '[' || s[0] == '{':
		if ends, at, ok := cutBounds(s); ok {
			e, f = parseBounds(ends, at)
		} else {
			e, f = parseSet(s)
		}
	case strings.Contains(s, "/"):
		e, f = parseInterval(s)
	default:
		e, f = parseSingle(s)
	}
	e.text = s
	return e, f
}

// parseSingle reads one date, which may leave its year open (196X).
func parseSingle(s string) (Expr, *SyntaxError) {
	d, f := parseDate(s, 0)
	if f != nil {
		return Expr{}, f
	}
	e := Expr{level: uint8(d.level), start: d.edge(), end: d.edge(), doubted: d.doubted, approximate: d.approximate}
	if d.choice {
		e.shape, e.parts = OneOf, d.runParts()
	}
	return e, nil
}

// parseInterval reads two ends with a stroke between them.
func parseInterval(s string) (Expr, *SyntaxError) {
	left, right, _ := strings.Cut(s, "/")
	if at := strings.Index(right, "/"); at >= 0 {
		return Expr{}, fault(len(left)+1+at, "there is more than one stroke", "write the first date, one stroke and the last date, such as 1964/1967")
	}
	start, f := parseEnd(left, 0)
	if f != nil {
		return Expr{}, f.within("", "/"+right)
	}
	end, f := parseEnd(right, len(left)+1)
	if f != nil {
		return Expr{}, f.within(left+"/", "")
	}
	switch {
	case start.kind != written && end.kind != written:
		return Expr{}, fault(0, "neither the start nor the end has a year", "write at least one of them, such as 1964/.., or leave the date out")
	case start.kind == written && end.kind == written && start.date.first > end.date.last:
		return Expr{}, fault(len(left)+1, "it ends before it starts", write(right+"/"+left)+" if the two were exchanged", right+"/"+left)
	}
	return Expr{
		level: uint8(max(start.level(), end.level())), shape: Interval,
		start: start.edge(), end: end.edge(),
		doubted:     start.date.doubted || end.date.doubted,
		approximate: start.date.approximate || end.date.approximate,
	}, nil
}

// end is one side of an interval.
type end struct {
	kind edgeKind
	date date
}

func parseEnd(s string, at int) (end, *SyntaxError) {
	switch s {
	case "":
		return end{kind: unknown}, nil
	case "..":
		return end{kind: open}, nil
	}
	if open, mark := strings.CutPrefix(s, ".."); mark && strings.Trim(open, marks) == "" {
		return end{}, fault(at+2, "an open end cannot have a mark", "put the mark on the date at the other end, or leave it out", "..")
	}
	if strings.HasPrefix(s, "..") || strings.HasSuffix(s, "..") {
		return end{}, fault(at, "two dots and a date stand on one side of the stroke", "write two dots alone for an open end, such as 1964/..")
	}
	d, f := parseDate(s, at)
	if f == nil && d.clock {
		f = fault(at+strings.IndexByte(s, 'T'), "a time of day cannot stand in an interval", "write the days alone, without T and the time")
	}
	return end{date: d}, f
}

// level gives the lowest level that allows such an end of an interval.
func (e end) level() int {
	switch {
	case e.kind != written:
		return 1
	case e.date.masked || e.date.season:
		return 2
	}
	return e.date.level
}

func (e end) edge() edge {
	if e.kind != written {
		return edge{kind: e.kind}
	}
	return e.date.edge()
}
