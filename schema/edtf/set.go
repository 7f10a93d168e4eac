package edtf

import "strings"

// parseSet reads [one of these] or {all of these}.
func parseSet(s string) (Expr, *SyntaxError) {
	shape, closing := OneOf, "]"
	if s[0] == '{' {
		shape, closing = AllOf, "}"
	}
	inside, closed := strings.CutSuffix(s[1:], closing)
	switch at := strings.IndexAny(inside, "[]{}/"); {
	case at >= 0 && inside[at] == '/':
		return Expr{}, fault(1+at, "a stroke stands inside brackets", "write two dots for a run of years inside brackets, such as [1964..1967]")
	case at >= 0 || !closed:
		return Expr{}, fault(max(1, len(s)-1), "the brackets do not pair", "close [ with ] and { with }, once, at the end")
	case inside == "":
		return Expr{}, fault(1, "there is nothing inside the brackets", "write the years, such as [1966,1968], or leave the date out")
	}
	e := Expr{level: 2, shape: shape}
	elements := strings.Split(inside, ",")
	at := 1
	for i, text := range elements {
		m, f := parseMember(text, at)
		if f == nil {
			f = m.check(shape, i == 0, i == len(elements)-1)
		}
		if f != nil {
			return Expr{}, f.within(s[:at], s[at+len(text):])
		}
		if e.add(m); len(e.parts) > MaxMembers {
			return Expr{}, fault(at, "the brackets hold too many years that do not adjoin", "write runs of years, such as [1960..1969]")
		}
		at += len(text) + 1
	}
	e.parts = mergeParts(e.parts)
	return e, nil
}

// member is one element of a set: a date, or a run of dates of which one end
// may be open.
type member struct {
	at          int
	first, last date
	openStart   bool
	openEnd     bool
	run         bool
}

// parseMember reads one element that begins at the given place.
func parseMember(text string, at int) (member, *SyntaxError) {
	left, right, run := strings.Cut(text, "..")
	m := member{at: at, run: run, openStart: run && left == "", openEnd: run && right == ""}
	if m.openStart && m.openEnd {
		return m, fault(at, "two dots stand alone", "write a year before or after them, such as [..1964]")
	}
	var f *SyntaxError
	if !m.openStart {
		if m.first, f = parseDate(left, at); f != nil {
			return m, f.within("", text[len(left):])
		}
		m.last = m.first
	}
	if run && !m.openEnd {
		if m.last, f = parseDate(right, at+len(text)-len(right)); f != nil {
			return m, f.within(left+"..", "")
		}
	}
	if m.openStart {
		m.first = m.last
	}
	return m, nil
}

// check refuses what has no clear meaning in a set.
func (m member) check(shape Shape, atStart, atEnd bool) *SyntaxError {
	vague := m.first.choice || m.first.about || m.last.choice || m.last.about
	switch {
	case m.first.clock || m.last.clock:
		return fault(m.at, "a time of day cannot stand in brackets", "write the days alone, without T and the time")
	case m.openStart && !atStart:
		return fault(m.at, "an open start is not the first thing in the brackets", "put it first, such as [..1960,1964]")
	case m.openEnd && !atEnd:
		return fault(m.at, "an open end is not the last thing in the brackets", "put it last, such as [1960,1964..]")
	case m.run && vague:
		return fault(m.at, "a run has an end that is not one known year", "write the run with plain years, such as [1960..1964]")
	case shape == AllOf && vague:
		return fault(m.at, "{ } says that every year in it holds, and this is not one known year", "write plain years, or [ ] where it is one of them")
	case m.first.first > m.last.last:
		return fault(m.at, "the run ends before it starts", "exchange its ends")
	}
	return nil
}

// add takes a member into the expression.
func (e *Expr) add(m member) {
	from, to := m.first.hull().First, m.last.hull().Last
	if len(e.parts) == 0 {
		e.start.first, e.start.last, e.end.first, e.end.last = int32(from), int32(from), int32(to), int32(to)
	}
	if e.start.kind == written {
		e.start.first = min(e.start.first, int32(from))
	}
	e.end.last = max(e.end.last, int32(to))
	switch {
	case m.run:
		e.parts = append(e.parts, part{years: Range{from, to}})
	default:
		e.parts = append(e.parts, m.first.runParts()...)
	}
	if m.openStart {
		e.start = edgeOver(Range{from, to}, open, false)
	}
	if m.openEnd {
		e.end = edgeOver(Range{from, to}, open, false)
	}
	e.doubted = e.doubted || m.first.doubted || m.last.doubted
	e.approximate = e.approximate || m.first.approximate || m.last.approximate
}

// mergeParts joins the parts that touch, the approximate and the others apart.
func mergeParts(parts []part) []part {
	var merged []part
	for _, about := range []bool{false, true} {
		var runs []Range
		for _, p := range parts {
			if p.about == about {
				runs = append(runs, p.years)
			}
		}
		for _, r := range merge(runs) {
			merged = append(merged, part{years: r, about: about})
		}
	}
	return merged
}
