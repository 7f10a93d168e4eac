package pages

import (
	"regexp/syntax"
	"slices"
	"strings"
	"unicode"
)

// patternWords shows what a text feature's pattern looks like on a bow: "#"
// stands for any digit, so "^A[0-9]{4}$" is "A####"; what may be left out and choices stand in
// brackets. A pattern that cannot be
// shown so stays as it is written, and plain words stay plain.
func patternWords(pattern string) string {
	re, err := syntax.Parse(pattern, syntax.Perl)
	if err != nil {
		return pattern
	}
	if words, ok := likeness(re.Simplify()); ok && words != "" {
		return words
	}
	return pattern
}

// likeness draws a pattern, or says that it cannot be drawn.
func likeness(re *syntax.Regexp) (string, bool) {
	switch re.Op {
	case syntax.OpEmptyMatch, syntax.OpBeginText, syntax.OpEndText, syntax.OpBeginLine, syntax.OpEndLine:
		return "", true
	case syntax.OpLiteral:
		return string(re.Rune), true
	case syntax.OpCharClass:
		return classLikeness(re.Rune)
	case syntax.OpCapture:
		return likeness(re.Sub[0])
	case syntax.OpConcat:
		parts, ok := likenesses(re.Sub)
		return strings.Join(parts, ""), ok
	case syntax.OpAlternate:
		parts, ok := likenesses(re.Sub)
		parts = slices.DeleteFunc(parts, func(s string) bool { return s == "" })
		return "(" + strings.Join(parts, " or ") + ")", ok
	case syntax.OpQuest:
		inner, ok := likeness(re.Sub[0])
		return "(" + inner + ")", ok
	}
	return "", false
}

func likenesses(list []*syntax.Regexp) ([]string, bool) {
	var parts []string
	for _, re := range list {
		part, ok := likeness(re)
		if !ok {
			return nil, false
		}
		parts = append(parts, part)
	}
	return parts, true
}

// classLikeness draws a class of characters: a digit, or the few that may stand there.
func classLikeness(ranges []rune) (string, bool) {
	if len(ranges) == 2 && ranges[0] == '0' && ranges[1] == '9' {
		return "#", true
	}
	var b strings.Builder
	b.WriteByte('[')
	for i := 0; i+1 < len(ranges); i += 2 {
		first, last := ranges[i], ranges[i+1]
		if last > unicode.MaxASCII {
			return "", false
		}
		b.WriteRune(first)
		if last > first {
			b.WriteString("–")
			b.WriteRune(last)
		}
	}
	b.WriteByte(']')
	return b.String(), true
}
