package checks

import (
	"bytes"
	"io"
	"io/fs"
	"path"
	"strings"
	"unicode"

	"github.com/rivo/uniseg"

	"yearmark/schema"
)

// lines finds the lines of a reference's files.
type lines struct {
	files   fs.FS
	sources map[string][]byte
	split   map[string][][]byte
	body    map[string]int // the line of a record on which its prose begins
}

func newLines(ref *schema.Reference, files fs.FS) *lines {
	l := &lines{files: files, sources: map[string][]byte{}, split: map[string][][]byte{}, body: map[string]int{}}
	if ref == nil {
		return l
	}
	l.sources["reference.yaml"] = ref.Settings.Source
	for _, r := range ref.Records() {
		head := r.Header()
		l.sources[head.File] = head.Source
		l.body[head.File] = head.Body.Pos.Line()
	}
	return l
}

// line gives the line of a place, and the language it is written in.
func (l *lines) line(pos schema.Pos) (text, language string, ok bool) {
	all, known := l.split[pos.File()]
	if !known {
		all = bytes.Split(bytes.TrimPrefix(schema.MaskPrivate(pos.File(), l.read(pos.File())), []byte("\ufeff")), []byte("\n"))
		l.split[pos.File()] = all
	}
	if pos.Line() < 1 || pos.Line() > len(all) {
		return "", "", false
	}
	return strings.TrimSuffix(string(all[pos.Line()-1]), "\r"), l.language(pos), true
}

// read gives the bytes of a file that is no record, as far as they are text.
func (l *lines) read(file string) []byte {
	if source, ok := l.sources[file]; ok || l.files == nil {
		return source
	}
	switch path.Ext(file) {
	case ".md", ".yaml", ".svg":
	default:
		return nil
	}
	f, err := l.files.Open(file)
	if err != nil {
		return nil
	}
	defer f.Close()
	data, err := io.ReadAll(io.LimitReader(f, schema.MaxRecordBytes))
	if err != nil {
		return nil
	}
	return data
}

func (l *lines) language(pos schema.Pos) string {
	switch body := l.body[pos.File()]; {
	case strings.HasSuffix(pos.File(), ".svg"):
		return "xml"
	case body > 0 && pos.Line() >= body:
		return "markdown"
	}
	return "yaml"
}

// clean makes text harmless on a terminal: what cannot be seen, or would turn
// the writing direction or the colours, becomes a visible sign.
func clean(s string) string {
	return strings.Map(func(r rune) rune {
		switch {
		case r == '\t':
			return ' '
		case unicode.IsControl(r), unicode.Is(unicode.Cf, r), r == unicode.ReplacementChar, r == '\u2028', r == '\u2029':
			return '·'
		}
		return r
	}, s)
}

// extent is how many characters the word has that begins at a column of a
// line, counted from 1: up to the closing quote or bracket, or to the end of a
// plain YAML value. It is 1 where nothing begins there.
func extent(line []rune, column int) int {
	start := column - 1
	if start < 0 || start >= len(line) {
		return 1
	}
	switch open := line[start]; open {
	case '"', '\'':
		for i := start + 1; i < len(line); i++ {
			if line[i] == open && !(open == '"' && line[i-1] == '\\') {
				return i - start + 1
			}
		}
		return len(line) - start
	case '[':
		return bracketed(line, start)
	case '<':
		for i := start; i < len(line); i++ {
			if line[i] == '>' {
				return i - start + 1
			}
		}
		return len(line) - start
	case '{':
		return 1 // the whole entry: its line says enough
	}
	end := start
	for end < len(line) && !strings.ContainsRune(",]}", line[end]) && !(line[end] == '#' && end > start && line[end-1] == ' ') {
		if line[end] == ':' && (end+1 == len(line) || line[end+1] == ' ') {
			break
		}
		end++
	}
	for end > start+1 && line[end-1] == ' ' {
		end--
	}
	return max(end-start, 1)
}

// bracketed is the length of a list or mapping written in brackets.
func bracketed(line []rune, start int) int {
	depth, quote := 0, rune(0)
	for i := start; i < len(line); i++ {
		switch r := line[i]; {
		case quote != 0:
			if r == quote {
				quote = 0
			}
		case r == '"' || r == '\'':
			quote = r
		case r == '{' || r == '[':
			depth++
		case r == '}' || r == ']':
			if depth--; depth == 0 {
				return i - start + 1
			}
		}
	}
	return len(line) - start
}

// window cuts a long line to the part around the place in question, and gives
// how wide what stands before the place and the place itself are on screen.
func window(line string, column, width int) (shown string, before, marked int) {
	const widest, lead = 100, 30
	runes := []rune(line)
	if width < 1 {
		width = extent(runes, column)
	}
	start := min(max(column-1, 0), len(runes))
	end := min(start+width, len(runes))
	from, to := 0, len(runes)
	for from < start && unicode.IsSpace(runes[from]) {
		from++
	}
	left, right := "", ""
	if to-from > widest {
		if start-from > widest/2 {
			from, left = max(from, min(start-lead, to-widest)), "…"
		}
		if to > from+widest {
			to, right = from+widest, "…"
		}
	}
	end = min(end, to)
	head := left + clean(string(runes[from:start]))
	mark := clean(string(runes[start:max(end, start)]))
	shown = head + mark + clean(string(runes[max(end, start):to])) + right
	return shown, uniseg.StringWidth(head), max(uniseg.StringWidth(mark), 1)
}
