package schema

import (
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"
)

// ParseCitation reads "halvane-list-1964, p. 6": an identifier, then, after the
// first comma, a place in the source, which may be absent. The error is a *Malformed.
func ParseCitation(text string, pos Pos) (Citation, error) {
	source, place, _ := strings.Cut(text, ",")
	c := Citation{Source: strings.TrimSpace(source), Place: strings.TrimSpace(place), Pos: pos}
	if isIdentifier(c.Source) {
		return c, nil
	}
	m := &Malformed{CheckMalformedCite, text, 0, fmt.Sprintf("the citation %q does not begin with a source", text), "", ""}
	switch {
	case strings.TrimSpace(text) == "":
		m.Message, m.Help = "a citation is empty", "Write the file name of a source and a place in it, as in \"list-1964, p. 6\", or leave the entry out."
	case strings.ContainsAny(text, "“”„‟"):
		m.Message = fmt.Sprintf("the citation %q has curly quotes, which do not hold source and place together", text)
		m.Help = "Write straight quotes around each source and its place: \"" + strings.Trim(text, "“”„‟ ") + "\". Word processors make curly ones by themselves."
	case looksLikePlace(c.Source):
		m.Message = fmt.Sprintf("the place %q stands without its source", text)
		m.Help = "Put the whole citation in quotes, source and place together: \"list-1964, " + c.Source + "\"."
	default:
		m.Help = "Write the file name of the source first, in small letters, digits and hyphens, as in \"list-1964, p. 6\"."
		if s := Slug(c.Source); s != "" && isIdentifier(s) && s != c.Source {
			m.Help = "Write the source's file name as it stands in the folder sources, perhaps \"" + s + "\"."
		}
	}
	return Citation{}, m
}

// looksLikePlace says that a word is more likely a place in a source than a source.
func looksLikePlace(s string) bool {
	lower := strings.ToLower(s)
	for _, start := range []string{"p. ", "pp. ", "p.", "pp.", "page ", "pages ", "sheet ", "fol. ", "col. ", "plate ", "fig. ", "no. ", "front ", "back ", "inside ", "line "} {
		if strings.HasPrefix(lower, start) {
			return true
		}
	}
	return false
}

// Anchor names the cited place on its source's page: "at-p-6" of "p. 6",
// "at_large" where no place is given. It rests on nothing but the place's name,
// so links to it last, and different places have different anchors.
func (c Citation) Anchor() string {
	if c.Place == "" {
		return "at_large"
	}
	b := append(make([]byte, 0, len("at-")+len(c.Place)), "at-"...)
	for rest := c.Place; rest != ""; {
		r, size := utf8.DecodeRuneInString(rest)
		switch {
		case strings.HasPrefix(rest, ". "):
			b, size = append(b, '-'), len(". ")
		case r == ' ':
			b = append(b, '_')
		case isPlainInAddress(r):
			b = utf8.AppendRune(b, r)
		default:
			b = fmt.Appendf(b, "~%x~", r)
		}
		rest = rest[size:]
	}
	return string(b)
}

// Within says whether a citation names what another does: the same source, at
// the other's place or one that lies in it or shares a page with it. One
// without a place is all of the source.
func (c Citation) Within(other Citation) bool {
	if c.Source != other.Source || other.Place == "" || c.Place == other.Place {
		return c.Source == other.Source
	}
	return ParseLocator(c.Place).Within(ParseLocator(other.Place))
}

// Meets says whether two citations may mean one place of one source: either
// lies within the other.
func (c Citation) Meets(other Citation) bool { return c.Within(other) || other.Within(c) }

// isPlainInAddress says that a character may stand for itself behind the # of
// an address, by RFC 3987, and stands for no other in an anchor.
func isPlainInAddress(r rune) bool {
	if r < utf8.RuneSelf {
		return 'a' <= r && r <= 'z' || 'A' <= r && r <= 'Z' || '0' <= r && r <= '9' || strings.ContainsRune("!$&'()*+,.:;=?@/", r)
	}
	return unicode.IsLetter(r) || unicode.IsNumber(r) || unicode.IsPunct(r)
}

// maxIdentifier bounds an identifier, so that file names made of it stay legal everywhere.
const maxIdentifier = 100

// isIdentifier says that s is one or more of a-z, 0-9 and hyphens, and no hyphen at either end.
func isIdentifier(s string) bool {
	if s == "" || len(s) > maxIdentifier || s[0] == '-' || s[len(s)-1] == '-' {
		return false
	}
	for i := 0; i < len(s); i++ {
		if c := s[i]; (c < 'a' || c > 'z') && (c < '0' || c > '9') && c != '-' {
			return false
		}
	}
	return true
}
