package schema

import (
	"cmp"
	"fmt"
)

// Pos is a place in a record's file. Every value read from a record keeps one.
type Pos struct {
	File   string // path below the reference's folder, with forward slashes
	Line   int    // from 1; the line of the Markdown file, fences counted
	Column int    // from 1, in characters; a byte-order mark is not counted
}

// IsZero says that the value was not written anywhere.
func (p Pos) IsZero() bool { return p.Line == 0 }

// String gives file:line:column, or the file alone where no line is known.
func (p Pos) String() string {
	if p.Line == 0 {
		return p.File
	}
	return fmt.Sprintf("%s:%d:%d", p.File, p.Line, p.Column)
}

// Compare orders places by file, line and column.
func (p Pos) Compare(q Pos) int {
	return cmp.Or(cmp.Compare(p.File, q.File), cmp.Compare(p.Line, q.Line), cmp.Compare(p.Column, q.Column))
}
