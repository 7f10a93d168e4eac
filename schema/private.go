package schema

import (
	"bytes"
	"path"
	"regexp"
	"strings"
	"unicode"
	"unicode/utf8"
)

// privateWord matches the key private, one that begins like it, and what one
// slip of the fingers makes of it.
const privateWord = `(?i:priv\w*|\w{2,3}vate|priate|prviate|priavte)`

var (
	privateName   = regexp.MustCompile(`^\W*` + privateWord + `\W*$`)
	privateInLine = regexp.MustCompile(`\b` + privateWord + `\W{0,3}:|"[^"]*\\[^"]*" *:`) // any key may hide behind a backslash
	privateRemark = regexp.MustCompile(`^#\W*` + privateWord + `|\b` + privateWord + `\W{0,3}:`)
)

// MaskPrivate gives a file with dots for what is private, so that the rest can
// be shown: everything from a key private to the next key, remarks and blank
// lines included, the remarks above it, and a private part that is commented
// out. When in doubt it is private: a key that is misspelt or out of place
// counts, and of a file that cannot be read as a record all that follows the
// word in its front matter. Of a source of which nothing is shown the words and
// the remarks are dots too. The result has as many lines as the file, is a record where the file
// is one, and is the file itself where nothing is private.
func MaskPrivate(file string, source []byte) []byte {
	if !mayBePrivate(source) && !mayBeKeptBack(file, source) {
		return source
	}
	public, err := PublicFileOf(file, source)
	if err != nil {
		return maskUnreadable(source)
	}
	return public.Text
}

// mayBePrivate says, quickly, that privateWord may match somewhere. A key in
// double quotes may be written by numbers, after a backslash.
func mayBePrivate(source []byte) bool {
	text := bytes.ToLower(withoutInvisible(source))
	for _, part := range []string{"priv", "vate", "priate", "prviate", "priavte", `\`} {
		if bytes.Contains(text, []byte(part)) {
			return true
		}
	}
	return false
}

// mayBeKeptBack says, quickly, that a file may be a source of which nothing is shown.
func mayBeKeptBack(file string, source []byte) bool {
	return placeOfFolder(path.Dir(file)) == KindSource && (bytes.Contains(source, []byte(ShowsNone)) || bytes.IndexByte(source, '\\') >= 0)
}

// mask is a stretch of a file and what is shown in its place.
type mask struct {
	start, end int
	by         string
}

// remark is what follows a # to the end of its line.
type remark struct {
	start, end int
	trailing   bool // on the line of a key or value
}

// masker walks the words of a front matter in order, and the gaps between them,
// in which remarks stand.
type masker struct {
	source  []byte
	masks   []mask
	public  []remark
	words   []Word // as they will be shown
	longer  int    // than the source is what is shown so far
	at      int    // the end of the last word
	after   bool   // the last word is private
	lineEnd int    // of the line on which the last private word ends

	mayBePrivate bool // any of the keys, as the function of that name says
	wordless     bool // the words of places are kept back
}

// PublicRemarks gives the remarks in a record's front matter that MaskPrivate
// leaves as they are, from the sign # on. Of a file that cannot be read as a
// record it gives none.
func PublicRemarks(file string, source []byte) []Text {
	top, err := Locate(file, source)
	if err != nil {
		return nil
	}
	var all []Text
	text := withoutMark(source)
	for _, r := range walkMasks(top, source).public {
		at := r.start - (len(source) - len(text))
		all = append(all, Text{Value: string(source[r.start:r.end]), Pos: placeOf(file, text, at)})
	}
	return all
}

func walkMasks(top *Located, source []byte) *masker {
	front := frontMatter(source)
	m := &masker{source: source, at: front[0], mayBePrivate: mayBePrivate(source)}
	if shown := top.Key("shown"); shown != nil && shown.Text == string(ShowsNone) {
		m.wordless = true
	}
	m.value(top)
	m.gap(front[1], false)
	return m
}

// masked is the source with its masks.
func (m *masker) masked() []byte {
	if len(m.masks) == 0 {
		return m.source
	}
	out := make([]byte, 0, len(m.source)+m.longer)
	copied := 0
	for _, k := range m.masks {
		out = append(append(out, m.source[copied:k.start]...), k.by...)
		copied = k.end
	}
	return append(out, m.source[copied:]...)
}

// mask puts dots in the place of a stretch that follows all masked before.
func (m *masker) mask(start, end int, by string) {
	m.masks = append(m.masks, mask{start, end, by})
	m.longer += len(by) - (end - start)
}

// shows notes a word that stands in the source or, if it is masked, will stand
// there before it is.
func (m *masker) shows(start, end int, key bool) {
	m.words = append(m.words, Word{int32(start + m.longer), int32(end + m.longer), key})
}

func (m *masker) value(v *Located) {
	switch {
	case v.Kind == LocatedList:
		for _, item := range v.Items {
			m.value(item)
		}
	case v.Kind == LocatedKeys:
		for _, k := range v.Keys {
			if m.mayBePrivate && privateName.MatchString(k.Name) {
				m.private(k)
				continue
			}
			m.word(k.Start, k.End)
			m.shows(k.Start, k.End, true)
			if m.wordless && (k.Name == "says" || k.Name == "heard" || k.Name == "read") {
				m.keptBack(k)
				continue
			}
			m.value(k.Value)
		}
	case v.Style == '|' || v.Style == '>':
		header, _, _ := cutLine(m.source[v.Start:v.End]) // which may hold a remark
		m.word(v.Start, v.Start+1)
		start := v.Start + m.longer
		m.word(v.Start+len(header), v.End)
		m.words = append(m.words, Word{int32(start), int32(v.End + m.longer), false})
	case v.Start < v.End:
		m.word(v.Start, v.End)
		m.shows(v.Start, v.End, false)
	}
}

// word passes a key or text that is public.
func (m *masker) word(start, end int) {
	m.gap(start, false)
	m.at, m.after = end, false
}

func (m *masker) private(k LocatedKey) {
	start, end := k.Start, k.End
	if v := k.Value; v.Start < v.End {
		end = max(end, v.End)
	}
	indent := start - lineStart(m.source, start)
	if before := bytes.TrimRight(m.source[m.at:start], " \t\r\n"); bytes.HasSuffix(before, []byte("?")) { // which marks a key
		start = m.at + len(before) - 1
	}
	m.gap(start, true)
	const key, sign = "private", ": "
	dots := "…" + strings.Repeat("\n"+strings.Repeat(" ", indent+2)+"…", bytes.Count(m.source[start:end], []byte("\n")))
	m.shows(start, start+len(key), true)
	m.shows(start+len(key+sign), start+len(key+sign+dots), false)
	m.mask(start, end, key+sign+dots)
	m.at, m.after = end, true
	m.lineEnd = endOfLine(m.source, end)
}

// keptBack masks the words of a place, line by line.
func (m *masker) keptBack(k LocatedKey) {
	v := k.Value
	if v.Start >= v.End {
		return
	}
	indent := strings.Repeat(" ", k.Start-lineStart(m.source, k.Start)+2)
	dots := "…" + strings.Repeat("\n"+indent+"…", bytes.Count(m.source[v.Start:v.End], []byte("\n")))
	m.gap(v.Start, false)
	m.shows(v.Start, v.Start+len(dots), false)
	m.mask(v.Start, v.End, dots)
	m.at, m.after = v.End, false
}

// gap masks the remarks between the last word and the next that are private.
func (m *masker) gap(end int, beforePrivate bool) {
	var remarks []remark
	hidden := m.after || beforePrivate || m.wordless
	for at := m.at; at < end; at++ {
		if m.source[at] != '#' {
			continue
		}
		r := remark{at, min(endOfLine(m.source, at), end), len(bytes.TrimSpace(m.source[lineStart(m.source, at):at])) > 0}
		remarks = append(remarks, r)
		hidden = hidden || privateRemark.Match(withoutInvisible(m.source[r.start:r.end]))
		at = r.end
	}
	for _, r := range remarks {
		own := m.wordless || privateRemark.Match(withoutInvisible(m.source[r.start:r.end]))
		if r.start < m.lineEnd || hidden && (m.after || own || !r.trailing) {
			m.mask(r.start, r.end, "# …")
		} else {
			m.public = append(m.public, r)
		}
	}
}

func endOfLine(text []byte, at int) int {
	if i := bytes.IndexByte(text[at:], '\n'); i >= 0 {
		return at + i
	}
	return len(text)
}

// frontMatter gives where the keys of a file begin and end. Without fences all
// of the file may be keys.
func frontMatter(source []byte) [2]int {
	text := withoutMark(source)
	mark := len(source) - len(text)
	first, rest, _ := cutLine(text)
	if !isFence(first) {
		return [2]int{mark, len(source)}
	}
	start := len(source) - len(rest)
	for at := start; at < len(source); {
		line, _, _ := cutLine(source[at:])
		if isFence(line) {
			return [2]int{start, at}
		}
		at += len(line) + 1
	}
	return [2]int{start, len(source)}
}

// maskUnreadable masks, line by line, what may be private in a file that cannot
// be read as a record: every remark, and all from the key private on.
func maskUnreadable(source []byte) []byte {
	front := frontMatter(source)
	start := privateFrom(source[front[0]:front[1]])
	if start < 0 {
		return source
	}
	out := bytes.Clone(source[:front[0]])
	at := front[0]
	for line := range bytes.Lines(source[front[0]:front[1]]) {
		text := bytes.TrimRight(line, "\r\n")
		words := bytes.TrimLeft(text, " \t")
		private := at >= front[0]+start
		switch key := privateInLine.FindIndex(text); {
		case private && key != nil:
			out = append(append(out, text[:key[1]]...), " …"...)
		case private || bytes.HasPrefix(words, []byte("#")):
			out = append(append(out, text[:len(text)-len(words)]...), "…"...)
		default:
			out = append(out, text...)
		}
		out = append(out, line[len(text):]...)
		at += len(line)
	}
	return append(out, source[front[1]:]...)
}

// privateFrom gives the start of the first line from which on keys that cannot
// be read may be private, or -1.
func privateFrom(front []byte) int {
	at := 0
	for line := range bytes.Lines(front) {
		plain := withoutInvisible(bytes.TrimSpace(line))
		if privateInLine.Match(plain) || bytes.HasPrefix(plain, []byte("#")) && privateRemark.Match(plain) {
			return at
		}
		at += len(line)
	}
	return -1
}

// withoutInvisible drops what can stand within a word and not be seen.
func withoutInvisible(text []byte) []byte {
	hidden := func(r rune) bool {
		if r < utf8.RuneSelf {
			return r < ' ' && r != '\n' && r != '\t' || r == 0x7f
		}
		return unicode.In(r, unicode.Cc, unicode.Cf, unicode.Mn)
	}
	if bytes.IndexFunc(text, hidden) < 0 {
		return text
	}
	return bytes.Map(func(r rune) rune {
		if hidden(r) {
			return -1
		}
		return r
	}, text)
}
