package edtf

import (
	"regexp"
	"strings"
)

// slips are mechanical faults with one clear mend, tried in this order. Each
// counts only if the mended text can be read.
var slips = []struct {
	reason string
	mend   func(string) string
}{
	{"a space stands before or after it", strings.TrimSpace},
	{"it has a space, and dates are written without", func(s string) string { return strings.Join(strings.Fields(s), "") }},
	{"the letters of a date are capitals", strings.ToUpper},
	{"it has a dash or digit that only looks like the plain one, or a mark that cannot be seen", plainSigns},
	{"it stands between quotes or brackets", unwrapped},
	{"? and ~ stand on one part of the date, and the mark for both is %", func(s string) string { return strings.NewReplacer("?~", "%", "~?", "%").Replace(s) }},
	{"a mark stands twice", func(s string) string { return strings.NewReplacer("??", "?", "~~", "~", "%%", "%").Replace(s) }},
	{"the mark stands outside round brackets, which dates do not have", func(s string) string { return roundBrackets.ReplaceAllString(s, "$1$2") }},
	{"the brackets do not pair", closed},
	{"a time of day cannot stand here", func(s string) string { return timeOfDay.ReplaceAllString(s, "") }},
	{"it is in capitals and without spaces that dates are written", func(s string) string { return strings.ToUpper(strings.Join(strings.Fields(plainSigns(s)), "")) }},
}

var (
	roundBrackets = regexp.MustCompile(`\(([^()]*)\)([?~%])`)
	timeOfDay     = regexp.MustCompile(`[Tt ]\d\d?:[0-9:.,Zz+-]*`)
)

// unwrapped takes off one pair of quotes or round brackets.
func unwrapped(s string) string {
	for _, pair := range []string{`""`, "''", "()", "“”", "‘’", "<>"} {
		opening, closing := string([]rune(pair)[0]), string([]rune(pair)[1])
		if inner, ok := strings.CutPrefix(s, opening); ok {
			if inner, ok := strings.CutSuffix(inner, closing); ok {
				return inner
			}
		}
	}
	return s
}

// closed gives a set the bracket that it lacks, at its end or at its beginning.
func closed(s string) string {
	inner := strings.Trim(s, "[]{}")
	switch {
	case strings.HasPrefix(s, "["), strings.HasSuffix(s, "]") && !strings.HasPrefix(s, "{"):
		return "[" + inner + "]"
	case strings.HasPrefix(s, "{"), strings.HasSuffix(s, "}"):
		return "{" + inner + "}"
	}
	return s
}
