package dating

import (
	"regexp/syntax"
	"slices"
	"strings"
)

// separators are what people leave out or put in where they copy a number.
const separators = " -.,/_‐‑‒–—−"

// Squeeze folds a text and drops its separators, so that "H24", "h 24" and
// "H-24" are one.
func Squeeze(s string) string {
	return strings.Map(func(r rune) rune {
		if strings.ContainsRune(separators, r) {
			return -1
		}
		return r
	}, Fold(s))
}

// loosened rewrites a pattern for squeezed text: its separators are taken out,
// and so are borders of words, which they make. It gives "" where that leaves
// nothing to match.
func loosened(pattern string) string {
	parsed, err := syntax.Parse(pattern, syntax.Perl)
	if err != nil {
		return ""
	}
	loosen(parsed)
	if minimal(parsed) {
		return ""
	}
	return `(?i)\A(?:` + parsed.String() + `)\z`
}

// loosen takes separators and borders of words out of a syntax tree.
func loosen(re *syntax.Regexp) {
	for _, sub := range re.Sub {
		loosen(sub)
	}
	switch re.Op {
	case syntax.OpLiteral:
		kept := slices.DeleteFunc(slices.Clone(re.Rune), func(r rune) bool { return strings.ContainsRune(separators, r) })
		if re.Rune = kept; len(kept) == 0 {
			re.Op = syntax.OpEmptyMatch
		}
	case syntax.OpCharClass:
		if re.Rune = withoutSeparators(re.Rune); len(re.Rune) == 0 {
			re.Op = syntax.OpEmptyMatch
		}
	case syntax.OpWordBoundary, syntax.OpNoWordBoundary:
		re.Op = syntax.OpEmptyMatch
	}
}

// withoutSeparators takes separators out of a class of characters, [low, high, …].
func withoutSeparators(class []rune) []rune {
	for _, s := range separators {
		var next []rune
		for i := 0; i < len(class); i += 2 {
			low, high := class[i], class[i+1]
			if s < low || s > high {
				next = append(next, low, high)
				continue
			}
			if low < s {
				next = append(next, low, s-1)
			}
			if s < high {
				next = append(next, s+1, high)
			}
		}
		class = next
	}
	return class
}

// minimal says that a pattern may match without a letter or figure.
func minimal(re *syntax.Regexp) bool {
	switch re.Op {
	case syntax.OpLiteral, syntax.OpCharClass, syntax.OpAnyChar, syntax.OpAnyCharNotNL, syntax.OpNoMatch:
		return false
	case syntax.OpStar, syntax.OpQuest:
		return true
	case syntax.OpRepeat:
		return re.Min == 0 || minimal(re.Sub[0])
	case syntax.OpAlternate:
		return slices.ContainsFunc(re.Sub, minimal)
	case syntax.OpConcat, syntax.OpCapture, syntax.OpPlus:
		return !slices.ContainsFunc(re.Sub, func(sub *syntax.Regexp) bool { return !minimal(sub) })
	}
	return true
}
