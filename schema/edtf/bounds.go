package edtf

import (
	"fmt"
	"strings"
)

// Bounds are two ends of which each may lie in several years, as records write
// them beside EDTF: "{from: 1964..1965, to: 1966}". Each end is a date, two years
// with two dots between them, or two dots alone where it is open; an end that is
// left out is unknown. This is no EDTF, which has no such interval.
const (
	boundsFrom, boundsTo = "from:", "to:"
)

// Bounds writes the text of two ends, of which one may be empty.
func Bounds(from, to string) string {
	var parts []string
	if from != "" {
		parts = append(parts, boundsFrom+" "+from)
	}
	if to != "" {
		parts = append(parts, boundsTo+" "+to)
	}
	return "{" + strings.Join(parts, ", ") + "}"
}

// cutBounds gives the two ends of such a text and where they begin in it; ok is
// false for any other text.
func cutBounds(s string) (ends [2]string, at [2]int, ok bool) {
	inner, braced := strings.CutPrefix(s, "{")
	inner, closed := strings.CutSuffix(inner, "}")
	if !braced || !closed || !strings.HasPrefix(inner, boundsFrom) && !strings.HasPrefix(inner, boundsTo) {
		return ends, at, false
	}
	begins := 1
	for part := range strings.SplitSeq(inner, ",") {
		text := strings.TrimLeft(part, " ")
		start := begins + len(part) - len(text)
		begins += len(part) + 1
		for i, key := range [...]string{boundsFrom, boundsTo} {
			if value, named := strings.CutPrefix(text, key); named && ends[i] == "" {
				ends[i] = strings.TrimSpace(value)
				at[i] = start + len(key) + len(value) - len(strings.TrimLeft(value, " "))
			}
		}
	}
	return ends, at, true
}

// parseBounds reads bounds that cutBounds took apart.
func parseBounds(ends [2]string, at [2]int) (Expr, *SyntaxError) {
	e := Expr{level: 2, shape: Interval}
	for i, to := range [...]*edge{&e.start, &e.end} {
		first, last, several := strings.Cut(ends[i], "..")
		if !several || first == "" || last == "" {
			read, f := parseEnd(ends[i], at[i])
			if f != nil {
				return Expr{}, f
			}
			*to = read.edge()
			e.doubted, e.approximate = e.doubted || read.date.doubted, e.approximate || read.date.approximate
			continue
		}
		a, f := parseDate(first, at[i])
		if f != nil {
			return Expr{}, f
		}
		b, f := parseDate(last, at[i]+len(first)+len(".."))
		if f != nil {
			return Expr{}, f
		}
		if a.hull().First > b.hull().Last {
			return Expr{}, fault(at[i], "the first of two years is the later one", "write "+last+".."+first+" if the two were exchanged")
		}
		*to = edgeOver(Range{a.hull().First, b.hull().Last}, written, a.about || b.about)
		e.doubted, e.approximate = e.doubted || a.doubted || b.doubted, e.approximate || a.approximate || b.approximate
	}
	switch {
	case e.start.kind != written && e.end.kind != written:
		return Expr{}, fault(0, "neither the start nor the end has a year", "write at least one of them, such as "+Bounds("1964..1965", ".."))
	case e.start.kind == written && e.end.kind == written && e.start.first > e.end.last:
		return Expr{}, fault(at[1], "it ends before it starts", "write "+Bounds(ends[1], ends[0])+" if the two were exchanged")
	}
	return e, nil
}

// OpenStart and OpenEnd say that an end of an interval is written "..".
func (e Expr) OpenStart() bool { return e.shape == Interval && e.start.kind == open }

// OpenEnd is OpenStart of the other end.
func (e Expr) OpenEnd() bool { return e.shape == Interval && e.end.kind == open }

// EDTF gives the expression as EDTF has it: as written, or of bounds the interval
// within which they lie.
func (e Expr) EDTF() string {
	if e.shape != Interval || e.text[0] != '{' {
		return e.text
	}
	year := func(of edge, year int32) string {
		switch of.kind {
		case open:
			return ".."
		case unknown:
			return ""
		}
		text := fmt.Sprintf("%04d", year)
		if of.about {
			text += "~"
		}
		return text
	}
	return year(e.start, e.start.first) + "/" + year(e.end, e.end.last)
}

// boundsWords reads bounds out: "from 1964 or 1965 to 1966".
func boundsWords(ends [2]string) string {
	var said [2]string
	for i, end := range ends {
		first, last, several := strings.Cut(end, "..")
		switch {
		case end == "..":
		case end == "":
			said[i] = "an unknown date"
		case several:
			said[i] = "some time from " + dateWords(first) + " to " + dateWords(last)
		default:
			said[i] = dateWords(end)
		}
	}
	switch {
	case said[0] == "":
		return "up to " + said[1]
	case said[1] == "":
		return said[0] + " and onwards"
	}
	return "begun " + said[0] + ", ended " + said[1]
}

// endInSeveral offers bounds for an interval whose ends are written as several
// years: "1964..1965/1966", "[1964,1965]/1966".
func endInSeveral(g []string) []offer {
	end := func(first, last, alone string) string {
		if first == "" {
			return alone
		}
		return first + ".." + last
	}
	return only(Bounds(end(g[1], g[2], g[3]), end(g[4], g[5], g[6])), "")
}
