package schema

import (
	"cmp"
	"fmt"
	"slices"
)

// The checks of the reading family, as a Problem names them.
const (
	CheckUnreadable          = "unreadable"           // the YAML is malformed, or the file cannot be opened
	CheckNoFrontMatter       = "no-front-matter"      // no fence of three hyphens, or none that closes it
	CheckNotUTF8             = "not-utf8"             // bytes that are not UTF-8
	CheckOddCharacters       = "odd-characters"       // NUL, control characters, invisible direction marks
	CheckTooLarge            = "too-large"            // a file, list or folder beyond what any reference needs
	CheckTooDeep             = "too-deep"             // nested more than MaxDepth levels
	CheckAlias               = "alias"                // an anchor, an alias, a merge or an explicit tag of YAML
	CheckOutsideFolder       = "outside-folder"       // a link or path that leads out of the reference's folder
	CheckStrayFile           = "stray-file"           // a file or folder that is no part of a reference
	CheckNestedFolder        = "nested-folder"        // a folder below a folder of records
	CheckBadIdentifier       = "bad-identifier"       // a file name or id that is not small letters, digits and hyphens
	CheckWrongFolder         = "wrong-folder"         // a record of one kind in the folder of another
	CheckUnknownKind         = "unknown-kind"         // the key record names no kind of record
	CheckUnknownKey          = "unknown-key"          // a key that no record of this kind has
	CheckMisplacedKey        = "misplaced-key"        // a key that exists, but not in this kind of statement or feature
	CheckMissingKey          = "missing-key"          // a key that must be there is not, or has no value
	CheckRepeatedKey         = "repeated-key"         // the same key twice in one place
	CheckWrongType           = "wrong-type"           // a list for a word, a word for a number …
	CheckUnknownValue        = "unknown-value"        // a value that is none of those allowed or declared
	CheckOutOfBounds         = "out-of-bounds"        // a figure beyond its limits
	CheckMalformedSpan       = "malformed-span"       // years that are not EDTF
	CheckMalformedFigure     = "malformed-figure"     // a figure or range that cannot be read
	CheckReversedRange       = "reversed-range"       // a range whose first figure is the greater
	CheckUnknownUnit         = "unknown-unit"         // a unit that is none of Units
	CheckWrongUnit           = "wrong-unit"           // a unit other than the feature's
	CheckMalformedCite       = "malformed-citation"   // a citation that does not begin with an identifier
	CheckBadPattern          = "bad-pattern"          // a pattern that RE2 does not take, or a very long one
	CheckBadAddress          = "bad-address"          // an address that is not http or https
	CheckNoYears             = "no-years"             // a claim with neither span, era nor attestation
	CheckTwoSpans            = "two-spans"            // a claim with both a span and an era
	CheckDuplicate           = "duplicate"            // one identifier for two things
	CheckDangling            = "dangling"             // a name that no record answers to
	CheckMalformedPlace      = "malformed-place"      // a time or a region of a scan that cannot be read
	CheckMalformedTranscript = "malformed-transcript" // a transcript that is not there, a line of it, or a mending that fits none of it
)

// ReadingChecks lists every check that a Problem can name.
var ReadingChecks = []string{
	CheckUnreadable, CheckNoFrontMatter, CheckNotUTF8, CheckOddCharacters, CheckTooLarge, CheckTooDeep, CheckAlias,
	CheckOutsideFolder, CheckStrayFile, CheckNestedFolder, CheckBadIdentifier, CheckWrongFolder, CheckUnknownKind,
	CheckUnknownKey, CheckMisplacedKey, CheckMissingKey, CheckRepeatedKey, CheckWrongType, CheckUnknownValue,
	CheckOutOfBounds, CheckMalformedSpan, CheckMalformedFigure, CheckReversedRange, CheckUnknownUnit, CheckWrongUnit,
	CheckMalformedCite, CheckBadPattern, CheckBadAddress, CheckNoYears, CheckTwoSpans, CheckDuplicate, CheckDangling,
	CheckMalformedPlace, CheckMalformedTranscript,
}

// Problem is something that could not be read as a record should be. Its
// Check names the check of the reading family that it belongs to.
type Problem struct {
	Check   string // one of ReadingChecks
	Pos     Pos
	Message string // lower case, no full stop: got and want
	Help    string // what to do, a sentence
	Why     []Place
	Written string // of a citation that could not be read, its text that could not be read
	Missing string // the file in which what is not there would stand, as in "models/dunlin.md"; "" elsewhere
	// Remedies are ways to end it that a program can carry out, likeliest first.
	Remedies []Remedy
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
	slices.SortStableFunc(p, Problem.compare)
	return slices.CompactFunc(p, func(a, b Problem) bool {
		return a.Pos == b.Pos && a.Message == b.Message && a.Check == b.Check
	})
}

func (p Problem) compare(q Problem) int {
	return cmp.Or(p.Pos.Compare(q.Pos), cmp.Compare(p.Message, q.Message), cmp.Compare(p.Check, q.Check))
}
