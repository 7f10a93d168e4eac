package words

import (
	"strings"
	"sync"
	"unicode"
	"unicode/utf8"

	"golang.org/x/text/unicode/norm"
)

// cell is one folded character and the bytes of the text that it came from.
type cell struct {
	r          rune
	start, end int
}

// folds gives the form of characters that Unicode's compatibility
// decomposition leaves alone. A fraction sign is set off by a blank, so
// that 7¼ does not become 71/4.
var folds = map[rune]string{
	'ß': "ss", 'ẞ': "ss", 'æ': "ae", 'Æ': "ae", 'œ': "oe", 'Œ': "oe", 'ø': "o", 'Ø': "o", 'ł': "l", 'Ł': "l",
	'đ': "d", 'Đ': "d", 'ð': "d", 'Ð': "d", 'þ': "th", 'Þ': "th", 'ı': "i", 'ς': "σ",
	'’': "'", '‘': "'", 'ʼ': "'", '′': "'", '″': "\"", '“': "\"", '”': "\"", '„': "\"",
	'–': "-", '—': "-", '‐': "-", '‑': "-", '‒': "-", '−': "-", '⁄': "/", '×': " ", '\u00ad': "",
	'¼': " 1/4", '½': " 1/2", '¾': " 3/4", '⅓': " 1/3", '⅔': " 2/3", '⅛': " 1/8", '⅜': " 3/8", '⅝': " 5/8", '⅞': " 7/8",
	'⅕': " 1/5", '⅖': " 2/5", '⅗': " 3/5", '⅘': " 4/5", '⅙': " 1/6", '⅚': " 5/6",
	'\r': " ", '\t': " ", '\u2028': "\n", '\u2029': "\n",
}

var folded sync.Map // rune -> string, for characters beyond ASCII already met

// fold appends the folded characters of a text: small letters without
// accents, compatibility forms resolved, marks dropped.
func fold(dst []cell, text string) []cell {
	for i := 0; i < len(text); {
		c := text[i]
		if c < utf8.RuneSelf {
			r := rune(c)
			switch {
			case 'A' <= c && c <= 'Z':
				r += 'a' - 'A'
			case c == '\r' || c == '\t':
				r = ' '
			}
			dst = append(dst, cell{r, i, i + 1})
			i++
			continue
		}
		r, size := utf8.DecodeRuneInString(text[i:])
		for _, f := range foldRune(r) {
			dst = append(dst, cell{f, i, i + size})
		}
		i += size
	}
	return dst
}

// foldRune gives the folded form of a character beyond ASCII.
func foldRune(r rune) string {
	if f, ok := folds[r]; ok {
		return f
	}
	if f, ok := folded.Load(r); ok {
		return f.(string)
	}
	var out []rune
	for _, d := range norm.NFKD.String(string(r)) {
		if unicode.IsMark(d) {
			continue
		}
		if f, ok := folds[d]; ok {
			out = append(out, []rune(f)...)
			continue
		}
		for _, low := range norm.NFKD.String(string(unicode.ToLower(d))) {
			if !unicode.IsMark(low) {
				out = append(out, low)
			}
		}
	}
	f := string(out)
	folded.Store(r, f)
	return f
}

// isLetter says whether a folded character belongs to words: a letter, or a
// figure other than 0 to 9.
func isLetter(r rune) bool {
	if r < utf8.RuneSelf {
		return 'a' <= r && r <= 'z'
	}
	return unicode.IsLetter(r) || unicode.IsNumber(r)
}

func isDigit(r rune) bool { return '0' <= r && r <= '9' }

// HasDigit says whether a folded word holds a figure.
func HasDigit(word string) bool { return strings.ContainsFunc(word, isDigit) }

func appendRune(b []byte, r rune) []byte {
	if r < utf8.RuneSelf {
		return append(b, byte(r))
	}
	return utf8.AppendRune(b, r)
}

// Folded gives the folded form of a character.
func Folded(r rune) string {
	if r < utf8.RuneSelf {
		return string(fold(nil, string(r))[0].r)
	}
	return foldRune(r)
}

// IsLetter says whether a folded character belongs to words.
func IsLetter(r rune) bool { return isLetter(r) }
