// Package markup writes HTML quickly without giving up what html/template
// guards: tags are constants of the program, and everything that comes from a
// record is escaped for the place where it stands.
//
// html/template looks every value up by reflection and passes it through
// escapers chosen at run time, which for the long lists of a reference costs
// more than all else a page needs. Here the compiler chooses. A tag can only be
// an untyped string constant, since no other package can name the type
// constant; text, attribute values and addresses have a method each.
package markup

import (
	"bytes"
	"html/template"
	"strconv"
	"strings"
	"unsafe"
)

// constant is mark-up that stands in the program's own text.
type constant string

// Writer gathers HTML. The zero Writer is empty and ready.
type Writer struct{ b []byte }

// New gives a Writer with room for about so many bytes.
func New(size int) *Writer { return &Writer{b: make([]byte, 0, size)} }

// Tag writes mark-up as it stands.
func (w *Writer) Tag(markup constant) *Writer {
	w.b = append(w.b, markup...)
	return w
}

// Text writes words of a record, for between tags or within a quoted
// attribute that is no address, handler or style.
func (w *Writer) Text(s string) *Writer {
	from := 0
	for i := 0; i < len(s); i++ {
		var entity string
		switch s[i] {
		case '&':
			entity = "&amp;"
		case '<':
			entity = "&lt;"
		case '>':
			entity = "&gt;"
		case '"':
			entity = "&#34;"
		case '\'':
			entity = "&#39;"
		case 0:
			entity = "\uFFFD"
		default:
			continue
		}
		w.b = append(w.b, s[from:i]...)
		w.b = append(w.b, entity...)
		from = i + 1
	}
	w.b = append(w.b, s[from:]...)
	return w
}

// Int writes a whole number.
func (w *Writer) Int(n int) *Writer {
	w.b = strconv.AppendInt(w.b, int64(n), 10)
	return w
}

// Decimal writes a number with at most so many decimals and no trailing zeros.
func (w *Writer) Decimal(x float64, decimals int) *Writer {
	start := len(w.b)
	w.b = strconv.AppendFloat(w.b, x, 'f', decimals, 64)
	if decimals > 0 {
		for len(w.b) > start && w.b[len(w.b)-1] == '0' {
			w.b = w.b[:len(w.b)-1]
		}
		w.b = bytes.TrimSuffix(w.b, []byte("."))
	}
	return w
}

// Address writes an address within a quoted attribute. One that is neither
// relative nor http, https or mailto is replaced by "#unsafe".
func (w *Writer) Address(s string) *Writer {
	if !safeScheme(s) {
		s = "#unsafe"
	}
	return w.Text(s)
}

// safeScheme says whether an address may stand in a page: relative, or of a
// scheme that only leads somewhere.
func safeScheme(s string) bool {
	scheme, _, found := strings.Cut(s, ":")
	if !found || strings.ContainsAny(scheme, "/?#") {
		return true
	}
	switch strings.ToLower(scheme) {
	case "http", "https", "mailto":
		return true
	}
	return false
}

// HTML writes mark-up that is already known to be safe.
func (w *Writer) HTML(h template.HTML) *Writer {
	w.b = append(w.b, h...)
	return w
}

// Link writes a link with its words.
func (w *Writer) Link(address, words string) *Writer {
	return w.Tag(`<a href="`).Address(address).Tag(`">`).Text(words).Tag(`</a>`)
}

// MaybeLink writes a link, or the words alone where they lead nowhere.
func (w *Writer) MaybeLink(address, words string) *Writer {
	if address == "" {
		return w.Text(words)
	}
	return w.Link(address, words)
}

// Template writes what a template makes of its data, which is as safe.
func (w *Writer) Template(t *template.Template, data any) error { return t.Execute(sink{w}, data) }

// sink takes what html/template has made safe.
type sink struct{ *Writer }

func (s sink) Write(p []byte) (int, error) {
	s.b = append(s.b, p...)
	return len(p), nil
}

// Len is how many bytes were written.
func (w *Writer) Len() int { return len(w.b) }

// Back takes back all that was written after the first n bytes.
func (w *Writer) Back(n int) { w.b = w.b[:n] }

// Bytes gives what was written, good until more is written or taken back.
func (w *Writer) Bytes() []byte { return w.b }

// Done gives what was written. Nothing can be written after it.
func (w *Writer) Done() template.HTML {
	done := template.HTML(unsafe.String(unsafe.SliceData(w.b), len(w.b)))
	w.b = nil
	return done
}
