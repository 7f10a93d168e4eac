package prose

import "bytes"

// A text beyond these bounds is shown as it stands instead of being read as
// Markdown: no writer needs them, and the time to read such a text grows with
// the square of its length.
const (
	longest = 1 << 20 // bytes
	deepest = 64      // quotation marks and list signs at the head of one line
	signs   = 20_000  // opening brackets and emphasis signs in the whole text
)

func tooCostly(src []byte) bool {
	if len(src) > longest {
		return true
	}
	if bytes.Count(src, []byte("["))+bytes.Count(src, []byte("*"))+bytes.Count(src, []byte("_")) > signs {
		return true
	}
	for line := range bytes.Lines(src) {
		if nesting(line) > deepest {
			return true
		}
	}
	return false
}

// nesting counts the quotation marks and list signs at the head of a line.
func nesting(line []byte) int {
	n := 0
	for i, b := range line {
		spaceNext := i+1 < len(line) && (line[i+1] == ' ' || line[i+1] == '\t')
		switch {
		case b == '>' || spaceNext && bytes.IndexByte([]byte("-*+.)"), b) >= 0:
			n++
		case b == ' ' || b == '\t' || b >= '0' && b <= '9' || b == '-' || b == '*' || b == '+':
		default:
			return n
		}
	}
	return n
}
