package linked

import (
	"encoding/json"
	"strconv"
)

// writer writes things as JSON, term by term. Nothing is gathered first: a
// reference has a hundred things for every ten records. Terms are the program's
// own; words may be anybody's.
type writer struct{ b []byte }

// next begins a line for the next thing of the graph.
func (w *writer) next() { w.b = append(w.b, ",\n"...) }

// start begins a thing, close ends it.
func (w *writer) start() { w.comma(); w.b = append(w.b, '{') }
func (w *writer) close() { w.b = append(w.b, '}') }

// begin starts a thing that has an address and is of these types.
func (w *writer) begin(id string, types ...string) {
	w.start()
	w.put("@id", id)
	if len(types) == 1 {
		w.put("@type", types[0])
		return
	}
	w.list("@type", types...)
}

// open begins a thing that stands within another.
func (w *writer) open(term string) {
	w.term(term)
	w.b = append(w.b, '{')
}

// reference says no more of a thing than its address.
func (w *writer) reference(term, id string) {
	w.open(term)
	w.put("@id", id)
	w.close()
}

func (w *writer) openList(term string) {
	w.term(term)
	w.b = append(w.b, '[')
}

func (w *writer) closeList() { w.b = append(w.b, ']') }

// comma parts what follows from what stands before it in a thing or a list.
func (w *writer) comma() {
	if n := len(w.b); n > 0 && w.b[n-1] != '{' && w.b[n-1] != '[' && w.b[n-1] != '\n' {
		w.b = append(w.b, ',')
	}
}

func (w *writer) term(term string) {
	w.comma()
	w.b = append(append(append(w.b, '"'), term...), `":`...)
}

// put writes words, unless there are none.
func (w *writer) put(term, words string) {
	if words != "" {
		w.term(term)
		w.words(words)
	}
}

func (w *writer) number(term string, x float64) {
	w.term(term)
	w.b = strconv.AppendFloat(w.b, x, 'f', -1, 64)
}

// list writes a list of words, unless it is empty.
func (w *writer) list(term string, all ...string) {
	each(w, term, all, w.text)
}

// text writes words in a list.
func (w *writer) text(s string) {
	w.comma()
	w.words(s)
}

// each writes a list, unless it is empty.
func each[T any](w *writer, term string, all []T, write func(T)) {
	if len(all) == 0 {
		return
	}
	w.openList(term)
	for _, one := range all {
		write(one)
	}
	w.closeList()
}

// words writes them as they stand where nothing in them needs an escape.
func (w *writer) words(s string) {
	for i := range len(s) {
		if c := s[i]; c < ' ' || c >= 0x7f || c == '"' || c == '\\' || c == '<' || c == '>' || c == '&' {
			data, _ := json.Marshal(s) // no text is refused
			w.b = append(w.b, data...)
			return
		}
	}
	w.b = append(append(append(w.b, '"'), s...), '"')
}
