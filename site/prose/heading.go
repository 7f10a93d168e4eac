package prose

import (
	"html"
	"strconv"
	"strings"
	"unicode"

	"github.com/yuin/goldmark/util"
	"golang.org/x/text/unicode/norm"
)

// headingID makes an identifier from a heading's words: letters and digits of
// any script, small, joined by hyphens. Words that leave nothing give
// "section". A repeat is numbered from 2 on.
func (st *state) headingID(words string) string {
	base := st.options.Prefix + "-" + slug(words)
	id, n := base, max(st.ids[base], 1)
	for st.ids[id] > 0 {
		n++
		id = base + "-" + strconv.Itoa(n)
	}
	st.ids[base] = n
	st.ids[id] = max(st.ids[id], 1)
	return id
}

// slugLength bounds an identifier, in characters.
const slugLength = 64

func slug(words string) string {
	var b strings.Builder
	n, gap := 0, false
	for _, r := range norm.NFC.String(words) {
		if !unicode.IsLetter(r) && !unicode.IsDigit(r) && !unicode.Is(unicode.M, r) {
			gap = n > 0
			continue
		}
		if gap {
			b.WriteByte('-')
			gap = false
		}
		b.WriteRune(unicode.ToLower(r))
		if n++; n == slugLength {
			break
		}
	}
	if n == 0 {
		return "section"
	}
	return b.String()
}

// unentity reads the backslash escapes and entities that a piece of Markdown
// text still holds.
func unentity(s string) string {
	if !strings.ContainsAny(s, `\&`) {
		return s
	}
	return html.UnescapeString(string(util.UnescapePunctuations([]byte(s))))
}
