package linked

import (
	"encoding/json"
	"slices"
)

// writer writes nodes as encoding/json does, keys in order, without looking at
// types by reflection: a reference has a hundred nodes for every ten records.
type writer struct {
	b    []byte
	keys []string // of the nodes being written, the innermost last
}

// node writes one node. The error is for a value that JSON cannot hold.
func (w *writer) node(n node) error {
	from := len(w.keys)
	for key := range n {
		w.keys = append(w.keys, key)
	}
	to := len(w.keys)
	slices.Sort(w.keys[from:to])
	w.b = append(w.b, '{')
	for i := from; i < to; i++ {
		key := w.keys[i]
		if i > from {
			w.b = append(w.b, ',')
		}
		if err := w.text(key); err != nil {
			return err
		}
		w.b = append(w.b, ':')
		if err := w.value(n[key]); err != nil {
			return err
		}
	}
	w.keys = w.keys[:from]
	w.b = append(w.b, '}')
	return nil
}

func (w *writer) value(value any) error {
	switch v := value.(type) {
	case string:
		return w.text(v)
	case node:
		return w.node(v)
	case []string:
		return list(w, v, w.text)
	case []node:
		return list(w, v, w.node)
	case []any:
		return list(w, v, w.value)
	}
	return w.other(value)
}

func list[T any](w *writer, items []T, write func(T) error) error {
	w.b = append(w.b, '[')
	for i, item := range items {
		if i > 0 {
			w.b = append(w.b, ',')
		}
		if err := write(item); err != nil {
			return err
		}
	}
	w.b = append(w.b, ']')
	return nil
}

// text writes words, as they stand where nothing in them needs an escape.
func (w *writer) text(s string) error {
	for i := range len(s) {
		if c := s[i]; c < ' ' || c >= 0x7f || c == '"' || c == '\\' || c == '<' || c == '>' || c == '&' {
			return w.other(s)
		}
	}
	w.b = append(append(append(w.b, '"'), s...), '"')
	return nil
}

func (w *writer) other(value any) error {
	data, err := json.Marshal(value)
	w.b = append(w.b, data...)
	return err
}
