package schema

import (
	"bytes"
	"fmt"
	"regexp"
	"strconv"
	"unicode/utf8"
)

// oddASCII marks the control characters that no record holds: all but tab,
// line feed, and a carriage return, which is looked at more closely.
var oddASCII = func() (odd [256]bool) {
	for c := range 0x20 {
		odd[c] = c != '\t' && c != '\n'
	}
	odd[0x7f] = true
	for c := 0xc2; c < 0xf0; c++ {
		odd[c] = c == 0xc2 || c == 0xd8 || c == 0xe2 || c == 0xef
	}
	return odd
}()

// oddCharacters reports characters that make text read otherwise than it
// looks, the first on each line, and answers with the text in which each of
// them is an underscore, so that reading can go on. The text begins on the
// given line of the file.
func (d *decoder) oddCharacters(text []byte, line int, front bool) []byte {
	var mended []byte
	copied, lineStart, reported := 0, 0, -1
	for i := 0; i < len(text); i++ {
		if text[i] == '\n' {
			line, lineStart = line+1, i+1
			continue
		}
		if !oddASCII[text[i]] {
			continue
		}
		r, size := utf8.DecodeRune(text[i:])
		what, odd := oddCharacter(r, front)
		if !odd || r == '\r' && i+1 < len(text) && text[i+1] == '\n' {
			i += size - 1
			continue
		}
		if reported != lineStart {
			reported = lineStart
			at := d.at(line, utf8.RuneCount(text[lineStart:i])+1)
			d.report(CheckOddCharacters, at, fmt.Sprintf("%s (U+%04X) stands in the text", what, r), "Delete it: it cannot be seen, but changes how the text is read. Typing the line afresh is the surest way.")
			if r != utf8.RuneError {
				d.offer(Remedy{Title: "Delete it", Edits: []Edit{{Pos: at, Old: string(r)}}})
			}
		}
		mended = append(append(mended, text[copied:i]...), '_')
		copied = i + size
		i += size - 1
	}
	if mended == nil {
		return text
	}
	return append(mended, text[copied:]...)
}

var characterNumber = regexp.MustCompile(`&#([0-9]{1,7}|[xX][0-9a-fA-F]{1,6});`)

// numberedCharacters reports odd characters that prose writes by their numbers,
// as "&#x202e;" does, and answers with an underscore in place of each.
func (d *decoder) numberedCharacters(body []byte, line int) []byte {
	if !bytes.Contains(body, []byte("&#")) {
		return body
	}
	var mended []byte
	copied := 0
	for _, at := range characterNumber.FindAllSubmatchIndex(body, -1) {
		digits, base := string(body[at[2]:at[3]]), 10
		if digits[0] == 'x' || digits[0] == 'X' {
			digits, base = digits[1:], 16
		}
		n, _ := strconv.ParseInt(digits, base, 32)
		what, odd := oddCharacter(rune(n), false)
		if !odd {
			continue
		}
		start := bytes.LastIndexByte(body[:at[0]], '\n') + 1
		place := d.at(line+bytes.Count(body[:at[0]], []byte("\n")), utf8.RuneCount(body[start:at[0]])+1)
		d.report(CheckOddCharacters, place, fmt.Sprintf("%q stands for %s", body[at[0]:at[1]], what), "Delete it: it cannot be seen, but changes how the text is read.")
		d.offer(Remedy{Title: "Delete it", Edits: []Edit{{Pos: place, Old: string(body[at[0]:at[1]])}}})
		mended = append(append(mended, body[copied:at[0]]...), '_')
		copied = at[1]
		if d.full() {
			break
		}
	}
	if mended == nil {
		return body
	}
	return append(mended, body[copied:]...)
}

// oddCharacter names a character that a record must not hold. Marks that help
// to set right-to-left words are admitted in prose, never in keys and values.
func oddCharacter(r rune, front bool) (string, bool) {
	switch {
	case r == 0:
		return "a NUL character", true
	case r == '\r':
		return "a lone carriage return", true
	case r < 0x20 && r != '\t' && r != '\n', r >= 0x7f && r < 0xa0:
		return "a control character", true
	case r >= 0x202a && r <= 0x202e, r >= 0x2066 && r <= 0x2069:
		return "a character that reverses the direction of text", true
	case r == 0xfffe, r == 0xffff:
		return "a code that is no character", true
	case !front:
		return "", false
	case r == 0x200e, r == 0x200f, r == 0x061c:
		return "a mark of text direction", true
	case r == 0x200b, r == 0x2060, r == 0xfeff, r == 0x00ad:
		return "an invisible character", true
	case r == 0x2028, r == 0x2029:
		return "a foreign line break", true
	}
	return "", false
}

// hopelessDepth is the estimated nesting at which a text is not given to the
// YAML library at all.
const hopelessDepth = 1000

// hopelesslyDeep gives the place at which hopelessDepth is passed, or -1: open
// brackets, indentation and runs of list marks count, quotes are not looked at.
func hopelesslyDeep(front []byte) int {
	open, lead, atStart := 0, 0, true
	for i, c := range front {
		switch c {
		case '\n':
			lead, atStart = 0, true
			continue
		case ' ', '\t', '-', '?':
			if atStart {
				lead++
			}
			continue
		case '[', '{':
			open++
		case ']', '}':
			open = max(open-1, 0)
		}
		if atStart = false; open+lead > hopelessDepth {
			return i
		}
	}
	return -1
}
