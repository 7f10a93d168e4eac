package schema

import (
	"cmp"
	"fmt"
	"slices"
)

// Problem is something that could not be read as a record should be. Its
// Check names the check of the reading family that it belongs to.
type Problem struct {
	Check   string // "unreadable", "unknown-key", "wrong-type" …
	Pos     Pos
	Message string // lower case, no full stop: got and want
	Help    string // what to do, a sentence
	Why     []Place
}

// Place is a further place that made a problem so.
type Place struct {
	Pos     Pos
	Message string
}

// Problems is every problem of one reading, in order of place.
type Problems []Problem

// Error shows the first problem and counts the others.
func (p Problems) Error() string {
	switch len(p) {
	case 0:
		return "no problems"
	case 1:
		return fmt.Sprintf("%s: %s", p[0].Pos, p[0].Message)
	}
	return fmt.Sprintf("%s: %s (and %d more)", p[0].Pos, p[0].Message, len(p)-1)
}

// sorted orders problems by place, message and check, and drops repeats.
func (p Problems) sorted() Problems {
	slices.SortFunc(p, func(a, b Problem) int {
		return cmp.Or(a.Pos.Compare(b.Pos), cmp.Compare(a.Message, b.Message), cmp.Compare(a.Check, b.Check))
	})
	return slices.CompactFunc(p, func(a, b Problem) bool {
		return a.Pos == b.Pos && a.Message == b.Message && a.Check == b.Check
	})
}
