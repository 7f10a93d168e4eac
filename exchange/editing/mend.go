package editing

import (
	"bytes"
	"fmt"
	"slices"
	"strings"

	"yearmark/schema"
)

// Mend carries a remedy out on files as read gives them: those that the places
// of its edits are of. said is what the person answered, where the remedy
// asks. Nothing but the values named changes; the error says what cannot be done.
func Mend(r schema.Remedy, said string, read func(file string) ([]byte, error)) ([]schema.Mended, error) {
	var list []schema.Mended
	for _, e := range r.Edits {
		file := e.Pos.File()
		if slices.ContainsFunc(list, func(m schema.Mended) bool { return m.File == file }) {
			continue
		}
		source, err := read(file)
		if err != nil {
			return nil, err
		}
		if e.To != "" {
			return moved(file, e.To, source, read)
		}
		after, err := mended(file, source, r.Edits, said)
		if err != nil {
			return nil, err
		}
		list = append(list, schema.Mended{File: file, Before: source, After: after})
	}
	return list, nil
}

func moved(file, to string, source []byte, read func(string) ([]byte, error)) ([]schema.Mended, error) {
	if _, err := read(to); err == nil {
		return nil, fmt.Errorf("there is a file %s already; look at both", to)
	}
	return []schema.Mended{{File: file, Before: source}, {File: to, After: source}}, nil
}

// mended carries out the edits of one file, words first: they move no value
// from its place among the others.
func mended(file string, source []byte, edits []schema.Edit, said string) ([]byte, error) {
	top, unread := schema.Locate(file, source)
	var err error
	var paths [][]string
	var values []schema.Edit
	after := source
	for _, e := range edits {
		switch {
		case e.Pos.File() != file:
		case e.Old != "":
			if after, err = exchanged(after, e); err != nil {
				return nil, err
			}
		case unread != nil:
			return nil, unread
		default:
			paths, values = append(paths, append(pathOf(top, source, e.Pos), e.Keys...)), append(values, e)
		}
	}
	for i, e := range values {
		if after, err = put(file, after, paths[i], newValue(e, said)); err != nil {
			return nil, err
		}
	}
	return after, nil
}

// exchanged writes one word for another in the line of its place.
func exchanged(source []byte, e schema.Edit) ([]byte, error) {
	at := Offset(source, e.Pos)
	line, _, _ := bytes.Cut(source[at:], []byte("\n"))
	n := bytes.Index(line, []byte(e.Old))
	if n < 0 {
		return nil, fmt.Errorf("%s no longer says %q in line %d; look at the record again", e.Pos.File(), e.Old, e.Pos.Line())
	}
	return slices.Concat(source[:at+n], []byte(e.New), source[at+n+len(e.Old):]), nil
}

// pathOf is the path of the value at a place: of the mapping that begins there,
// or else of the innermost value.
func pathOf(top *schema.Located, source []byte, at schema.Pos) []string {
	if at.IsZero() {
		return nil
	}
	offset := Offset(source, at)
	path := PathAt(top, offset)
	for i := range path {
		if n := Node(top, path[:i]...); n != nil && n.Kind == schema.LocatedKeys && n.Start == offset && i > 0 {
			return path[:i:i]
		}
	}
	return path
}

// newValue is what an edit writes, or nil where it takes away.
func newValue(e schema.Edit, said string) *Value {
	text := e.New
	if e.Said {
		text = strings.Join(strings.Fields(said), " ")
	}
	switch {
	case text == "":
		return nil
	case !e.Said && (text == "true" || text == "false"):
		return Literal(text)
	}
	return Word(text)
}

// put writes a value at a path, makes what is not there yet above it, and
// takes it away where there is no value.
func put(file string, source []byte, path []string, value *Value) ([]byte, error) {
	if value == nil {
		return Remove(file, source, path)
	}
	f, err := Open(file, source)
	if err != nil {
		return nil, err
	}
	for i, step := range path {
		now := f.Node(path[:i]...)
		switch {
		case now != nil && now.Kind == schema.LocatedText && i > 0: // a word where keys are to stand gives way
			return Set(file, source, path[:i], nested(path[i:], value))
		case step == "-" && (now == nil && i == 1 || now != nil && now.Kind == schema.LocatedList):
			return Add(file, source, path[:i], nested(path[i+1:], value))
		case now == nil || step == "-":
			return Set(file, source, path[:i], nested(path[i:], value))
		}
	}
	return Set(file, source, path, value)
}

// nested puts a value below keys that are not there yet.
func nested(keys []string, value *Value) *Value {
	for _, k := range slices.Backward(keys) {
		if k == "-" {
			value = List(value)
		} else {
			value = Mapping().With(k, value)
		}
	}
	return value
}
