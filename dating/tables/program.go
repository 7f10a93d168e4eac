package tables

import (
	"regexp/syntax"
	"unicode"
)

// The instructions of a program, by their first figure. A program is what RE2
// compiles a pattern into; the browser steps through it in time linear in the
// text, so a pattern means the same there and cannot hang a page.
const (
	opEither = 0 // [0, x, y]: go on at x and at y
	opPass   = 1 // [1, x]: go on at x
	opBorder = 2 // [2, x, what]: go on at x where a border of these kinds is
	opMatch  = 3 // [3]: matched
	opFail   = 4 // [4]: go nowhere
	opOne    = 5 // [5, x, low, high, …]: take one character within these and go on at x
)

// program compiles an RE2 pattern; the first instruction holds where to start.
// It gives nil for "" and for what does not compile.
func program(re2 string) [][]int {
	if re2 == "" {
		return nil
	}
	parsed, err := syntax.Parse(re2, syntax.Perl)
	if err != nil {
		return nil
	}
	compiled, err := syntax.Compile(parsed.Simplify())
	if err != nil {
		return nil
	}
	list := [][]int{{compiled.Start}}
	for i := range compiled.Inst {
		list = append(list, instruction(&compiled.Inst[i]))
	}
	return list
}

func instruction(in *syntax.Inst) []int {
	out := int(in.Out)
	switch in.Op {
	case syntax.InstAlt, syntax.InstAltMatch:
		return []int{opEither, out, int(in.Arg)}
	case syntax.InstCapture, syntax.InstNop:
		return []int{opPass, out}
	case syntax.InstEmptyWidth:
		return []int{opBorder, out, int(in.Arg)}
	case syntax.InstMatch:
		return []int{opMatch}
	case syntax.InstRune, syntax.InstRune1:
		return append([]int{opOne, out}, ranges(in)...)
	case syntax.InstRuneAny:
		return []int{opOne, out, 0, unicode.MaxRune}
	case syntax.InstRuneAnyNotNL:
		return []int{opOne, out, 0, '\n' - 1, '\n' + 1, unicode.MaxRune}
	}
	return []int{opFail}
}

// ranges gives the characters that an instruction takes. A single character
// under (?i) stands for all of its cases.
func ranges(in *syntax.Inst) []int {
	var list []int
	if len(in.Rune) == 1 {
		r := in.Rune[0]
		list = append(list, int(r), int(r))
		if syntax.Flags(in.Arg)&syntax.FoldCase != 0 {
			for other := unicode.SimpleFold(r); other != r; other = unicode.SimpleFold(other) {
				list = append(list, int(other), int(other))
			}
		}
		return list
	}
	for _, r := range in.Rune {
		list = append(list, int(r))
	}
	return list
}
