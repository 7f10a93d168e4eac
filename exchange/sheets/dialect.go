package sheets

import (
	"strings"
	"unicode/utf8"
)

// guard puts an apostrophe before text that a spreadsheet would take for a
// formula, and before text that unguard would take for guarded.
func guard(s string) string {
	if needsGuard(s) {
		return "'" + s
	}
	return s
}

// unguard undoes guard and leaves all other text alone.
func unguard(s string) string {
	if rest, ok := strings.CutPrefix(s, "'"); ok && needsGuard(rest) {
		return rest
	}
	return s
}

func needsGuard(s string) bool {
	return startsFormula(strings.TrimLeft(s, "'"))
}

// startsFormula says that a spreadsheet may take the text for a formula
// (OWASP, "CSV Injection"; white space before the sign is skipped by some).
func startsFormula(s string) bool {
	s = strings.TrimLeft(s, " \u00a0\u3000")
	r, _ := utf8.DecodeRuneInString(s)
	return s != "" && strings.ContainsRune("=+-@＝＋－＠\t\r\n", r)
}

// between parts the things in one cell.
const between = " | "

// joinParts writes several things into one cell.
func joinParts(parts []string) string {
	quoted := make([]string, len(parts))
	for i, p := range parts {
		quoted[i] = escape(p, `\|`)
	}
	return strings.Join(quoted, between)
}

// splitParts undoes joinParts. White space around a part is no part of it, and
// empty parts are left out.
func splitParts(cell string) []string {
	var parts []string
	for _, p := range cut(cell, '|') {
		if p = strings.TrimSpace(p); p != "" {
			parts = append(parts, unescape(p))
		}
	}
	return parts
}

// joinPair writes two things of which the second may be absent: "riser: a check".
func joinPair(name, what string) string {
	if what == "" {
		return escape(name, `\|:`)
	}
	return escape(name, `\|:`) + ": " + escape(what, `\|`)
}

// splitPairs undoes the joining of pairs. A part without a colon has no second half.
func splitPairs(cell string) [][2]string {
	var pairs [][2]string
	for _, p := range cut(cell, '|') {
		if strings.TrimSpace(p) == "" {
			continue
		}
		halves := cut(p, ':')
		what := ""
		if len(halves) > 1 {
			what = p[len(halves[0])+1:]
		}
		pairs = append(pairs, [2]string{unescape(strings.TrimSpace(halves[0])), unescape(strings.TrimSpace(what))})
	}
	return pairs
}

// escape puts a backslash before each of the signs.
func escape(s, signs string) string {
	if !strings.ContainsAny(s, signs) {
		return s
	}
	var b strings.Builder
	for _, r := range s {
		if strings.ContainsRune(signs, r) {
			b.WriteByte('\\')
		}
		b.WriteRune(r)
	}
	return b.String()
}

// unescape takes a backslash off a backslash, a bar or a colon; before
// anything else it stands for itself.
func unescape(s string) string {
	var b strings.Builder
	for i := 0; i < len(s); i++ {
		if s[i] == '\\' && i+1 < len(s) && strings.IndexByte(`\|:`, s[i+1]) >= 0 {
			i++
		}
		b.WriteByte(s[i])
	}
	return b.String()
}

// cut parts text at each sign that has no backslash before it, and leaves the
// backslashes in.
func cut(s string, sign byte) []string {
	var parts []string
	start := 0
	for i := 0; i < len(s); i++ {
		switch {
		case s[i] == '\\' && i+1 < len(s):
			i++
		case s[i] == sign:
			parts = append(parts, s[start:i])
			start = i + 1
		}
	}
	return append(parts, s[start:])
}

// oneLineEnd makes every line end a line feed, as reading a table does.
func oneLineEnd(s string) string {
	if strings.IndexByte(s, '\r') < 0 {
		return s
	}
	return strings.ReplaceAll(strings.ReplaceAll(s, "\r\n", "\n"), "\r", "\n")
}
