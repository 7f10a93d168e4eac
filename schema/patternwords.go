package schema

import (
	"regexp"
	"regexp/syntax"
	"slices"
	"strings"
	"unicode/utf8"
)

// PatternWords draws a pattern as the numbers that it describes are stamped: "#"
// stands for any digit, "…" for any number of the like, square brackets hold what
// may stand in one place and round ones what may be left out, so that
// "^6[4-7]-[0-9]{3}$" is "6[4–7]-###". A pattern that says more than that is given as it is
// written, without the signs for its beginning and end; plain words stay plain.
func PatternWords(pattern string) string {
	raw := strings.TrimSuffix(strings.TrimPrefix(pattern, "^"), "$")
	if regexp.QuoteMeta(raw) == raw {
		return raw
	}
	re, err := syntax.Parse(raw, syntax.Perl)
	if err != nil {
		return raw
	}
	if words, ok := drawn(re.Simplify()); ok && words != "" {
		return words
	}
	return raw
}

// longestDrawn is the most bytes that a drawn pattern has: beyond, it is no picture of a number.
const longestDrawn = 80

// drawn draws a part of a pattern, or says that it cannot be drawn.
func drawn(re *syntax.Regexp) (string, bool) {
	switch re.Op {
	case syntax.OpEmptyMatch, syntax.OpBeginText, syntax.OpEndText, syntax.OpBeginLine, syntax.OpEndLine:
		return "", true
	case syntax.OpLiteral:
		return string(re.Rune), re.Flags&syntax.FoldCase == 0
	case syntax.OpCharClass:
		return drawnClass(re.Rune)
	case syntax.OpCapture:
		return drawn(re.Sub[0])
	case syntax.OpConcat:
		parts, ok := drawnParts(re.Sub)
		words := strings.Join(parts, "")
		return words, ok && len(words) <= longestDrawn
	case syntax.OpAlternate:
		parts, ok := drawnParts(re.Sub)
		return "(" + strings.Join(slices.DeleteFunc(parts, func(s string) bool { return s == "" }), " or ") + ")", ok
	case syntax.OpQuest:
		inner, ok := drawn(re.Sub[0])
		if strings.Trim(inner, " -./") == "" { // a separator, which is never asked for
			return inner, ok
		}
		return "(" + inner + ")", ok
	case syntax.OpPlus, syntax.OpStar:
		if op := re.Sub[0].Op; op == syntax.OpAnyChar || op == syntax.OpAnyCharNotNL {
			return "…", true
		}
		inner, ok := drawn(re.Sub[0])
		if re.Op == syntax.OpStar {
			return "(" + inner + "…)", ok
		}
		return inner + "…", ok
	}
	return "", false
}

func drawnParts(list []*syntax.Regexp) ([]string, bool) {
	var parts []string
	for _, re := range list {
		part, ok := drawn(re)
		if !ok {
			return nil, false
		}
		parts = append(parts, part)
	}
	return parts, true
}

// drawnClass draws what may stand in one place: "#" for the ten digits, "[4–7]", "[AC]".
func drawnClass(ranges []rune) (string, bool) {
	if string(ranges) == "09" {
		return "#", true
	}
	var b strings.Builder
	for i := 0; i+1 < len(ranges); i += 2 {
		first, last := ranges[i], ranges[i+1]
		if last >= utf8.RuneSelf {
			return "", false
		}
		b.WriteRune(first)
		if last > first+1 {
			b.WriteString("–")
		}
		if last > first {
			b.WriteRune(last)
		}
	}
	return "[" + b.String() + "]", b.Len() > 0
}
