package dating

import (
	"regexp/syntax"
	"strings"
	"unicode/utf8"

	"yearmark/schema/english"
)

// template writes a pattern as people write serial numbers, # for any figure:
// "^6[4-7]-[0-9]{3}$" as "6(4–7)-###". A pattern that says more than that is
// written as it is, without the signs for its beginning and end.
func template(pattern string) string {
	raw := strings.TrimSuffix(strings.TrimPrefix(pattern, "^"), "$")
	parsed, err := syntax.Parse(raw, syntax.Perl)
	if err != nil {
		return raw
	}
	var b strings.Builder
	if !writeTemplate(&b, parsed) || b.Len() == 0 {
		return raw
	}
	return b.String()
}

// maxRepeats is how often a part is written out at most.
const maxRepeats = 12

// writeTemplate writes a part of a pattern, or answers false where it cannot.
func writeTemplate(b *strings.Builder, re *syntax.Regexp) bool {
	switch re.Op {
	case syntax.OpLiteral:
		b.WriteString(string(re.Rune))
		return re.Flags&syntax.FoldCase == 0
	case syntax.OpCharClass:
		return writeClass(b, re.Rune)
	case syntax.OpConcat:
		for _, part := range re.Sub {
			if !writeTemplate(b, part) {
				return false
			}
		}
		return true
	case syntax.OpCapture:
		return writeTemplate(b, re.Sub[0])
	case syntax.OpRepeat:
		return writeRepeat(b, re)
	}
	return false
}

// writeRepeat writes a part as often as it may stand: "###", or "# to ###".
func writeRepeat(b *strings.Builder, re *syntax.Regexp) bool {
	var part strings.Builder
	if !writeTemplate(&part, re.Sub[0]) || re.Min < 1 || re.Max > maxRepeats || re.Max < re.Min {
		return false
	}
	b.WriteString(strings.Repeat(part.String(), re.Min))
	if re.Max > re.Min {
		b.WriteString("(to " + strings.Repeat(part.String(), re.Max) + ")")
	}
	return true
}

// writeClass writes a class of characters: # for the ten figures, "(4–7)", "(A or B)".
func writeClass(b *strings.Builder, ranges []rune) bool {
	if string(ranges) == "09" {
		b.WriteByte('#')
		return true
	}
	var parts []string
	for i := 0; i < len(ranges); i += 2 {
		low, high := ranges[i], ranges[i+1]
		if high >= utf8.RuneSelf || i >= 8 {
			return false
		}
		switch {
		case high == low:
			parts = append(parts, string(low))
		case high == low+1:
			parts = append(parts, string(low), string(high))
		default:
			parts = append(parts, string(low)+"–"+string(high))
		}
	}
	b.WriteString("(" + english.Or(parts) + ")")
	return len(parts) > 0
}
