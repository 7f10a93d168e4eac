package schema

import (
	"bytes"
	"fmt"
	"strings"
	"unicode/utf8"
	"unsafe"

	"yearmark/schema/english"
)

// The bounds of one record. They are far above what a record needs.
const (
	MaxRecordBytes = 4 << 20 // a record or reference.yaml
	maxFrontBytes  = 2 << 20 // its keys and values
	MaxDepth       = 32      // lists and mappings within each other
	MaxClaims      = 5000    // entries of one list in a record
	maxProblems    = 500     // problems reported of one file
)

// parts is a record cut at its fences.
type parts struct {
	front     []byte // between the fences
	frontLine int    // lines before it
	body      []byte
	bodyLine  int // the line on which the body begins
}

var byteOrderMark = []byte("\xef\xbb\xbf")

// withoutMark drops a byte-order mark, which is neither shown nor counted.
func withoutMark(source []byte) []byte { return bytes.TrimPrefix(source, byteOrderMark) }

// shared gives a part of a file as a string without copying it. A record keeps
// its file's bytes, and whoever gives them leaves them unchanged; with a hundred
// thousand records a second copy of each would be half a gigabyte.
func shared(b []byte) string { return unsafe.String(unsafe.SliceData(b), len(b)) }

// cutFront finds the fences of a record. Where there are none, or no second
// one, it reports so and answers false.
func (d *decoder) cutFront(source []byte) (parts, bool) {
	first, rest, more := cutLine(source)
	if !isFence(first) || !more || len(bytes.TrimSpace(rest)) == 0 {
		d.noFrontMatter(first, source)
		return parts{}, false
	}
	p := parts{frontLine: 1}
	for at, line := 0, 2; at < len(rest); line++ {
		text, _, _ := cutLine(rest[at:])
		next := at + len(text) + 1
		if isFence(text) {
			p.front, p.bodyLine = rest[:at], line+1
			p.body = rest[min(next, len(rest)):]
			return p, true
		}
		at = next
	}
	d.unclosedFront(rest)
	return parts{}, false
}

func cutLine(b []byte) (line, rest []byte, more bool) { return bytes.Cut(b, []byte("\n")) }

// isFence says that a line is three hyphens, trailing blanks aside.
func isFence(line []byte) bool {
	return bytes.HasPrefix(line, []byte("---")) && len(bytes.TrimRight(line, " \t\r")) == 3
}

// looksLikeFence says that a line was meant as a fence: other strokes, or
// another number of them.
func looksLikeFence(line []byte) bool {
	s := strings.TrimSpace(string(line[:min(len(line), 40)]))
	return s != "" && strings.Trim(s, "-–—―_+=~*") == "" || strings.HasPrefix(s, "```")
}

func (d *decoder) noFrontMatter(first, source []byte) {
	at := d.at(1, 1)
	shown := strings.TrimSpace(english.Clip(string(first), 40))
	help := "Begin the file with a line of three hyphens (---), then the keys, then another line of three hyphens."
	switch {
	case len(bytes.TrimSpace(source)) == 0:
		d.report(CheckNoFrontMatter, at, "the file is empty", help)
	case isFence(first):
		d.report(CheckNoFrontMatter, at, "nothing follows the opening line of hyphens", help)
	case looksLikeFence(first):
		d.report(CheckNoFrontMatter, at, fmt.Sprintf("the first line is %q, not three hyphens", shown), "Make the first line exactly three hyphens: ---. Some editors turn them into a dash; switch that off or undo it.")
	case len(bytes.TrimSpace(first)) == 0:
		d.report(CheckNoFrontMatter, at, "the file begins with an empty line", "Delete the empty lines above the first line of three hyphens.")
	default:
		d.report(CheckNoFrontMatter, at, "the file does not begin with a line of three hyphens", help)
	}
}

// unclosedFront reports a front matter without its second fence, at a line
// that was meant as one, if there is such a line.
func (d *decoder) unclosedFront(rest []byte) {
	line := 2
	for text := range bytes.Lines(rest) {
		text = bytes.TrimRight(text, "\r\n")
		if looksLikeFence(text) {
			at := d.at(line, 1)
			d.report(CheckNoFrontMatter, at, fmt.Sprintf("the line %q is not three hyphens", strings.TrimSpace(english.Clip(string(text), 40))), "Make the line after the last key exactly three hyphens, at the start of the line: ---.")
			return
		}
		line++
	}
	d.report(CheckNoFrontMatter, d.at(1, 1), "the keys at the top are never closed", "Put a line of three hyphens (---) after the last key, before the text.")
}

// utf8Fault finds the first byte that is not UTF-8, as a place in the file.
func utf8Fault(file string, source []byte) (Pos, byte, bool) {
	if utf8.Valid(source) {
		return Pos{}, 0, false
	}
	at := 0
	for at < len(source) {
		r, size := utf8.DecodeRune(source[at:])
		if r == utf8.RuneError && size == 1 {
			break
		}
		at += size
	}
	return placeOf(file, source, at), source[at], true
}

// placeOf turns an offset in a file without its mark into a place.
func placeOf(file string, source []byte, offset int) Pos {
	before := source[:offset]
	start := bytes.LastIndexByte(before, '\n') + 1
	return At(file, bytes.Count(before, []byte("\n"))+1, utf8.RuneCount(before[start:])+1)
}
