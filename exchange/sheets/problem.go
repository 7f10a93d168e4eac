package sheets

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
)

// Problem is something in a table that cannot be taken over.
type Problem struct {
	File    string // the table, or a record where no cell is to blame
	Line    int    // from 1; 0 where the whole file is meant
	Column  int    // of the line, from 1, in bytes; 0 where the whole row is meant
	Row     int    // as a spreadsheet counts, the names of the columns being row 1; 0 for none
	Header  string // the name of the cell's column, or ""
	Message string // lower case, no full stop
	Help    string // what to do, a sentence
}

// String gives place, column and message in one line.
func (p Problem) String() string {
	var b strings.Builder
	b.WriteString(p.File)
	if p.Line > 0 {
		fmt.Fprintf(&b, ":%d", p.Line)
	}
	if p.Column > 0 {
		fmt.Fprintf(&b, ":%d", p.Column)
	}
	b.WriteString(": ")
	switch {
	case p.Row > 0 && p.Header != "":
		fmt.Fprintf(&b, "row %d, column %q: ", p.Row, p.Header)
	case p.Row > 0:
		fmt.Fprintf(&b, "row %d: ", p.Row)
	case p.Header != "":
		fmt.Fprintf(&b, "column %q: ", p.Header)
	}
	b.WriteString(p.Message)
	return b.String()
}

// Problems is all that is wrong with a table, in order of place.
type Problems []Problem

// maxProblems bounds the problems reported of one table.
const maxProblems = 200

// Error shows the first problem and counts the others.
func (p Problems) Error() string {
	switch len(p) {
	case 0:
		return "no problems"
	case 1:
		return p[0].String()
	}
	return fmt.Sprintf("%s (and %d more)", p[0], len(p)-1)
}

// sorted orders problems by place and message.
func (p Problems) sorted() Problems {
	slices.SortStableFunc(p, func(a, b Problem) int {
		return cmp.Or(cmp.Compare(a.Row, b.Row), cmp.Compare(a.Line, b.Line), cmp.Compare(a.Column, b.Column),
			cmp.Compare(a.File, b.File), cmp.Compare(a.Message, b.Message))
	})
	if len(p) > maxProblems {
		last := p[maxProblems]
		last.Row, last.Header, last.Column = 0, "", 0
		last.Message, last.Help = fmt.Sprintf("there are %d more problems, which are not listed", len(p)-maxProblems), "Mend those listed and try again."
		p = append(p[:maxProblems:maxProblems], last)
	}
	return p
}
