package compare

import (
	"bytes"
	"fmt"
	"reflect"
	"slices"
	"strconv"
	"strings"

	"yearmark/schema"
)

// recordChanges compares the records of some kinds, in the order of
// Reference.Records, those that are gone last.
func recordChanges(before, after *schema.Reference, kinds ...schema.Kind) []RecordChange {
	list := []RecordChange{}
	for _, r := range after.Records() {
		h := r.Header()
		if !slices.Contains(kinds, h.Kind) {
			continue
		}
		was, known := before.Record(h.Kind, h.ID)
		if !known {
			list = append(list, changeOf(r, Added))
			continue
		}
		if fields := fieldChanges(was, r); len(fields) > 0 {
			c := changeOf(r, Changed)
			c.Fields = fields
			list = append(list, c)
		}
	}
	for _, r := range before.Records() {
		h := r.Header()
		if _, still := after.Record(h.Kind, h.ID); !still && slices.Contains(kinds, h.Kind) {
			list = append(list, changeOf(r, Removed))
		}
	}
	return list
}

func changeOf(r schema.Record, how string) RecordChange {
	h := r.Header()
	c := RecordChange{Kind: h.Kind, ID: h.ID, Title: r.Title(), Address: r.Address(), How: how, Fields: []FieldChange{}}
	if m, ok := r.(*schema.Model); ok {
		c.maker = m.Maker.Value
	}
	return c
}

func fieldChanges(was, is schema.Record) []FieldChange {
	if bytes.Equal(was.Header().Source, is.Header().Source) {
		return nil
	}
	was, is = wordless(was, is)
	fields := structChanges(reflect.ValueOf(was).Elem(), reflect.ValueOf(is).Elem())
	return append(fields, proseChange(was.Header().Body.Text, is.Header().Body.Text)...)
}

// wordless takes the words out of two states of a source where one of them says
// that nothing of it may be shown.
func wordless(was, is schema.Record) (schema.Record, schema.Record) {
	a, isSource := was.(*schema.Source)
	b, still := is.(*schema.Source)
	if !isSource || !still || a.MayShow() != schema.ShowsNone && b.MayShow() != schema.ShowsNone {
		return was, is
	}
	return withoutWords(a), withoutWords(b)
}

func withoutWords(s *schema.Source) *schema.Source {
	bare := *s
	bare.Places, bare.Mend = nil, nil
	for _, p := range s.Places {
		place := *p
		place.Says = schema.Text{}
		bare.Places = append(bare.Places, &place)
	}
	return &bare
}

// settingsChange compares reference.yaml.
func settingsChange(before, after *schema.Reference) []RecordChange {
	fields := structChanges(reflect.ValueOf(before.Settings), reflect.ValueOf(after.Settings))
	if len(fields) == 0 {
		return []RecordChange{}
	}
	return []RecordChange{{Kind: "settings", ID: "reference", Title: after.Settings.Name.Value, Address: "index.html", How: Changed, Fields: fields}}
}

// structChanges compares the keys of two records of one kind, claims and what
// is private aside: claims are compared one by one, and what is private nowhere.
func structChanges(was, is reflect.Value) []FieldChange {
	var list []FieldChange
	for i := range was.NumField() {
		name := was.Type().Field(i).Tag.Get("yaml")
		if name == "" || name == "-" || isClaims(was.Type().Field(i).Type) {
			continue
		}
		list = append(list, valueChanges(name, was.Field(i), is.Field(i))...)
	}
	return list
}

// valueChanges compares the values of one key: of keys within it those that
// differ, of a list what is gone from it and what is new.
func valueChanges(name string, was, is reflect.Value) []FieldChange {
	before, after := words(was), words(is)
	switch {
	case before == after:
		return nil
	case was.Kind() == reflect.Pointer && !was.IsNil() && !is.IsNil():
		return valueChanges(name, was.Elem(), is.Elem())
	case was.Kind() == reflect.Struct && hasKeys(was.Type()):
		list := structChanges(was, is)
		for i := range list {
			list[i].Field = name + " " + list[i].Field
		}
		return list
	case was.Kind() == reflect.Slice || was.Kind() == reflect.Map:
		gone, come := onlyInOne(parts(was), parts(is))
		if len(gone)+len(come) > 0 {
			return []FieldChange{{name, strings.Join(gone, "; "), strings.Join(come, "; ")}}
		}
	}
	return []FieldChange{{name, before, after}}
}

// hasKeys says whether a type is written as keys and values.
func hasKeys(t reflect.Type) bool {
	for i := range t.NumField() {
		if name := t.Field(i).Tag.Get("yaml"); name != "" && name != "-" {
			return true
		}
	}
	return false
}

// onlyInOne gives what only one of two lists has, each thing as often as it is
// there more often.
func onlyInOne(was, is []string) (gone, come []string) {
	count := map[string]int{}
	for _, s := range is {
		count[s]++
	}
	for _, s := range was {
		if count[s]--; count[s] < 0 {
			gone = append(gone, s)
		}
	}
	for _, s := range is {
		if count[s] > 0 {
			count[s]--
			come = append(come, s)
		}
	}
	return gone, come
}

func isClaims(t reflect.Type) bool {
	return t == reflect.TypeFor[*schema.Claim]() || t == reflect.TypeFor[[]*schema.Claim]() || t == reflect.TypeFor[[]schema.PrivateKey]()
}

// words writes a value of a record in one line, as a record would have it.
func words(v reflect.Value) string {
	switch x := v.Interface().(type) {
	case schema.Text:
		return x.Value
	case schema.Number:
		return figureWords(x.Value, x.Pos)
	case schema.Whole:
		return figureWords(float64(x.Value), x.Pos)
	case schema.Flag:
		if x.Pos.IsZero() {
			return ""
		}
		return strconv.FormatBool(x.Value)
	case schema.Span:
		return x.String()
	case schema.Range:
		return x.Written
	case schema.Citation:
		return x.String()
	case schema.MarkSign:
		return x.Sign.Value + ": " + x.Adds.Written
	}
	return compoundWords(v)
}

func figureWords(x float64, at schema.Pos) string {
	if at.IsZero() && x == 0 {
		return ""
	}
	return strconv.FormatFloat(x, 'f', -1, 64)
}

// compoundWords writes what holds further values.
func compoundWords(v reflect.Value) string {
	switch v.Kind() {
	case reflect.Pointer:
		if v.IsNil() {
			return ""
		}
		return words(v.Elem())
	case reflect.Slice, reflect.Map:
		return strings.Join(parts(v), "; ")
	case reflect.Struct:
		var keys []string
		for i := range v.NumField() {
			name := v.Type().Field(i).Tag.Get("yaml")
			if name == "" || name == "-" {
				continue
			}
			if text := words(v.Field(i)); text != "" {
				keys = append(keys, name+": "+text)
			}
		}
		return strings.Join(keys, ", ")
	}
	return ""
}

// parts writes the entries of a list, or of keys of the writer's own.
func parts(v reflect.Value) []string {
	var all []string
	if v.Kind() == reflect.Map {
		for _, key := range v.MapKeys() {
			all = append(all, key.String()+": "+words(v.MapIndex(key)))
		}
		slices.Sort(all)
		return all
	}
	for i := range v.Len() {
		all = append(all, words(v.Index(i)))
	}
	return all
}

// proseChange counts the lines of prose that were added and removed.
func proseChange(was, is string) []FieldChange {
	count := map[string]int{}
	for line := range strings.Lines(was) {
		count[strings.TrimSpace(line)]--
	}
	for line := range strings.Lines(is) {
		count[strings.TrimSpace(line)]++
	}
	delete(count, "")
	added, went := 0, 0
	for _, n := range count {
		added += max(n, 0)
		went += max(-n, 0)
	}
	if added == 0 && went == 0 {
		return nil
	}
	return []FieldChange{{"text", lineWords(went, "gone"), lineWords(added, "new")}}
}

func lineWords(n int, how string) string {
	switch n {
	case 0:
		return ""
	case 1:
		return "1 line " + how
	}
	return fmt.Sprintf("%d lines %s", n, how)
}
