package schema

import (
	"fmt"
	"strings"
)

// Bounds of a record's prose. No writer needs more, and the time to read a
// text beyond them as Markdown grows with the square of its length, for some
// texts with its cube.
const (
	maxProseBytes = 1 << 20
	maxProseNests = 64      // quotation marks and list signs at the head of one line
	maxProseSigns = 20_000  // opening brackets and signs of emphasis in the whole text
	maxProseCells = 100_000 // cells of one table
)

// Overload says why a text is not read as Markdown by anyone, and on which of
// its lines, counted from 1, that is so: it passes a bound that no writer
// needs. Where there is no reason, the line is 0. Pages show such a text as it
// stands; the checks do not look into it, nor does the search.
func Overload(prose string) (line int, check, why string) {
	if len(prose) > maxProseBytes {
		return 1, CheckTooLarge, fmt.Sprintf("the prose has %.1f MB, more than %d MB", float64(len(prose))/(1<<20), maxProseBytes>>20)
	}
	signs := strings.Count(prose, "[") + strings.Count(prose, "*") + strings.Count(prose, "_")
	if signs > maxProseSigns {
		return lineOfSign(prose, maxProseSigns), CheckTooLarge, fmt.Sprintf("the prose has %d brackets, stars and underlines, more than %d", signs, maxProseSigns)
	}
	if line := nestedLine(prose); line > 0 {
		return line, CheckTooDeep, fmt.Sprintf("quotations and lists stand more than %d deep in each other", maxProseNests)
	}
	if line := wideTable(prose); line > 0 {
		return line, CheckTooLarge, fmt.Sprintf("a table has more than %d cells", maxProseCells)
	}
	return 0, "", ""
}

// overloaded reports prose that nobody will read as Markdown.
func (d *decoder) overloaded(p Prose) {
	if line, check, why := Overload(p.Text); line > 0 {
		d.report(check, d.at(p.Pos.Line()+line-1, 1), why, "Divide the text, or delete the signs that mean nothing: until then it is shown as it stands.")
	}
}

// lineOfSign gives the line on which the sign after so many stands.
func lineOfSign(prose string, most int) int {
	line := 1
	for i := range len(prose) {
		switch prose[i] {
		case '\n':
			line++
		case '[', '*', '_':
			if most--; most < 0 {
				return line
			}
		}
	}
	return line
}

func nestedLine(prose string) int {
	number := 0
	for line := range strings.Lines(prose) {
		number++
		if nesting(line) > maxProseNests {
			return number
		}
	}
	return 0
}

// nesting counts the quotation marks and list signs at the head of a line.
func nesting(line string) int {
	n := 0
	for i := range len(line) {
		b := line[i]
		spaceNext := i+1 < len(line) && (line[i+1] == ' ' || line[i+1] == '\t')
		switch {
		case b == '>' || spaceNext && strings.IndexByte("-*+.)", b) >= 0:
			n++
		case b == ' ' || b == '\t' || b >= '0' && b <= '9' || b == '-' || b == '*' || b == '+':
		default:
			return n
		}
	}
	return n
}

// wideTable gives the line that parts the head of a table from its rows, if
// there are too many cells below it: a row that is cut short is filled up, so
// that a few signs make as many cells as the head has.
func wideTable(prose string) int {
	if !strings.Contains(prose, "|") {
		return 0
	}
	number, at, columns, rows := 0, 0, 0, 0
	for line := range strings.Lines(prose) {
		number++
		switch n := tableColumns(line); {
		case strings.TrimSpace(line) == "":
			columns = 0
		case columns == 0 && n > 0:
			at, columns, rows = number, n, 0
		}
		if rows++; columns*rows > maxProseCells {
			return at
		}
	}
	return 0
}

// tableColumns counts the columns that a line of hyphens and bars declares; 0
// where it is another line.
func tableColumns(line string) int {
	bars, hyphens := 0, 0
	for i := range len(line) {
		switch line[i] {
		case '|':
			bars++
		case '-':
			hyphens++
		case ' ', '\t', ':', '>', '\r', '\n':
		default:
			return 0
		}
	}
	if bars == 0 || hyphens == 0 {
		return 0
	}
	return bars + 1
}
