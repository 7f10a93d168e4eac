package desk

import (
	"bytes"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"yearmark/exchange/editing"
	"yearmark/schema"
)

// applied gives a record's file with the values that differ from what it says
// now; all else stays byte for byte. The error says what cannot be changed.
func applied(name string, source []byte, of schema.Field, now values) ([]byte, error) {
	was, err := fileValues(name, source, of)
	if err != nil {
		return nil, err
	}
	whole := fenced(name, source)
	after := whole
	if name != schema.SettingsFile {
		after = withBody(source, was[bodyPath], now[bodyPath])
	}
	file, err := editing.Open(name, after)
	if err != nil {
		return nil, err
	}
	c := changes{file, was.outlined(), now.outlined()}
	var edits []editing.Edit
	for _, f := range of.Fields {
		if f.List && f.Type == schema.FieldGroup && !f.OrWord && !f.OrOne {
			if err := c.list(f); err != nil {
				return nil, err
			}
			continue
		}
		edits = append(edits, c.field(nil, f.Name, f)...)
	}
	if err := file.Change(nil, nil, edits); err != nil {
		return nil, err
	}
	if after, err = file.Bytes(); err != nil {
		return nil, err
	}
	if bytes.Equal(after, whole) {
		return source, nil
	}
	after = unfenced(name, after)
	return after, saysOnly(name, after, of, now)
}

// saysOnly wants a file to say what the values say.
func saysOnly(name string, after []byte, of schema.Field, now values) error {
	got, err := fileValues(name, after, of)
	if err != nil {
		return fmt.Errorf("this cannot be written into %s: %w", name, err)
	}
	want, is := now.outlined().value("", of), got.outlined().value("", of)
	if (want == nil) != (is == nil) || want != nil && !want.Equal(is) {
		return fmt.Errorf("this cannot be changed in the form without changing more of %s; make the change in the file itself", name)
	}
	return nil
}

// withBody exchanges the text below the front matter where it differs, with
// the line ends of the file.
func withBody(source []byte, was, now string) []byte {
	if was == now {
		return source
	}
	if now != "" {
		now += "\n"
	}
	if was == "" {
		now = "\n" + now
	}
	if bytes.Contains(source, []byte("\r\n")) {
		now = strings.ReplaceAll(now, "\n", "\r\n")
	}
	at := bodyStart(source)
	return append(source[:at:at], now...)
}

// changes are the values of a file beside those that it is to have.
type changes struct {
	file     *editing.File
	was, now outlined
}

// field gives the edits of one key, named by keys below the mapping that is edited.
func (c changes) field(keys []string, path string, f schema.Field) []editing.Edit {
	keys = append(slices.Clone(keys), f.Name)
	if one := join(path, "0"); f.OrOne && slices.Equal(c.was.items(path), []int{0}) && slices.Equal(c.now.items(path), []int{0}) && c.file.Node(f.Name).Kind == schema.LocatedKeys {
		var edits []editing.Edit
		for _, inner := range f.Fields {
			edits = append(edits, c.field(keys, join(one, inner.Name), inner)...)
		}
		return edits
	}
	if f.Type == schema.FieldGroup && !f.List {
		var edits []editing.Edit
		for _, inner := range f.Fields {
			edits = append(edits, c.field(keys, join(path, inner.Name), inner)...)
		}
		return edits
	}
	if f.Type == schema.FieldOther && !f.List {
		if c.was.values[path] == c.now.values[path] {
			return nil
		}
		return otherEdits(keys, c.was.values[path], c.now.values[path])
	}
	old, new := c.was.value(path, f), c.now.value(path, f)
	if old == nil && new == nil || old != nil && new != nil && old.Equal(new) {
		return nil
	}
	return []editing.Edit{{Keys: keys, Old: old, New: new}}
}

// list changes, adds and removes the entries of a list of the record's own.
func (c changes) list(f schema.Field) error {
	entry := f
	entry.List = false
	change := editing.ListChange{Edits: map[int][]editing.Edit{}, Order: keyOrder(f)}
	was, now := c.was.items(f.Name), c.now.items(f.Name)
	for _, i := range was {
		if !slices.Contains(now, i) {
			change.Remove = append(change.Remove, i)
			continue
		}
		var edits []editing.Edit
		for _, inner := range f.Fields {
			edits = append(edits, c.field(nil, join(join(f.Name, strconv.Itoa(i)), inner.Name), inner)...)
		}
		if len(edits) > 0 {
			change.Edits[i] = edits
		}
	}
	for _, i := range now {
		if !slices.Contains(was, i) {
			change.Add = append(change.Add, c.now.value(join(f.Name, strconv.Itoa(i)), entry))
		}
	}
	switch {
	case len(change.Edits)+len(change.Remove)+len(change.Add) == 0:
		return nil
	case len(was) == 0:
		c.file.Add([]string{f.Name}, change.Add...)
		return nil
	case len(now) == 0:
		return c.file.Change(nil, nil, []editing.Edit{{Keys: []string{f.Name}}})
	case len(change.Remove) == len(was): // nothing of the list stays: its entries are written anew
		return c.file.Change(nil, nil, []editing.Edit{{Keys: []string{f.Name}, New: editing.List(change.Add...)}})
	}
	return c.file.ChangeList([]string{f.Name}, change)
}

func keyOrder(f schema.Field) []string {
	var names []string
	for _, inner := range f.Fields {
		names = append(names, inner.Name)
	}
	return names
}

// value makes what is to be written of a key, or nil where nothing is.
func (v outlined) value(path string, f schema.Field) *editing.Value {
	switch {
	case f.List:
		single := f
		single.List = false
		list := editing.List()
		for _, i := range v.items(path) {
			list.Append(v.value(join(path, strconv.Itoa(i)), single))
		}
		if len(list.Items()) == 0 {
			return nil
		}
		return list
	case f.Type == schema.FieldGroup:
		keys, written := editing.Mapping(), 0
		for _, inner := range f.Fields {
			if value := v.value(join(path, inner.Name), inner); value != nil {
				keys.With(inner.Name, value)
				written++
			}
		}
		first := v.values[join(path, f.Fields[0].Name)]
		switch {
		case written == 0:
			return nil
		case f.OrWord && written == 1 && first != "":
			return editing.Word(first)
		}
		return keys
	case v.values[path] == "":
		return nil
	}
	switch f.Type {
	case schema.FieldCitation:
		return editing.Quoted(v.values[path])
	case schema.FieldNumber, schema.FieldWhole, schema.FieldFlag:
		return editing.Literal(v.values[path])
	case schema.FieldOther:
		return otherValue(v.values[path])
	case schema.FieldDispute:
		return disputeValue(v.values[path])
	case schema.FieldSpan:
		if isBounds(v.values[path]) {
			return editing.Literal(v.values[path])
		}
	}
	return editing.Word(v.values[path])
}

// newRecord writes the file of a record that is not there yet. The error is for
// a value that would break the file.
func newRecord(kind schema.Kind, of schema.Field, now values) ([]byte, error) {
	keys := now.outlined().value("", of)
	if keys == nil {
		keys = editing.Mapping()
	}
	source := editing.NewRecord(kind, keys, now[bodyPath])
	if _, err := schema.Locate(kind.Folder()+"/new.md", source); err != nil {
		return nil, fmt.Errorf("this cannot be written as a record: %w", err)
	}
	return source, nil
}
