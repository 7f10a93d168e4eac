package exports

import (
	"bufio"
	"bytes"
	"encoding/json"
	"io"
	"iter"
	"reflect"
	"slices"
	"strings"

	"yearmark/schema"
)

// reference writes reference.json: a Document whose lists have an item a line,
// each made as it is written.
func (f Facts) reference(w io.Writer) error {
	out := newJSONWriter(w)
	head := reflect.ValueOf(f.head())
	lists := f.lists()
	for i := range head.NumField() {
		name, _, _ := strings.Cut(head.Type().Field(i).Tag.Get("json"), ",")
		omitted := strings.HasSuffix(head.Type().Field(i).Tag.Get("json"), ",omitempty") && head.Field(i).IsZero()
		switch items, isList := lists[name]; {
		case isList:
			out.list(name, items)
		case !omitted:
			out.key(name)
			out.value(head.Field(i).Interface())
		}
	}
	return out.end()
}

// jsonWriter writes one JSON object key by key. Its first error stays.
type jsonWriter struct {
	w      *bufio.Writer
	one    bytes.Buffer // buffer for one value
	encode *json.Encoder
	some   bool
	err    error
}

func newJSONWriter(w io.Writer) *jsonWriter {
	j := &jsonWriter{w: bufio.NewWriter(w)}
	j.encode = json.NewEncoder(&j.one)
	return j
}

func (j *jsonWriter) text(s string) {
	if j.err == nil {
		_, j.err = j.w.WriteString(s)
	}
}

func (j *jsonWriter) key(name string) {
	before := "{\n"
	if j.some {
		before = ",\n"
	}
	j.some = true
	j.text(before + "\"" + name + "\": ")
}

func (j *jsonWriter) value(v any) {
	if j.err != nil {
		return
	}
	j.one.Reset()
	if j.err = j.encode.Encode(v); j.err == nil {
		_, j.err = j.w.Write(bytes.TrimSuffix(j.one.Bytes(), []byte("\n")))
	}
}

func (j *jsonWriter) list(name string, items iter.Seq[any]) {
	j.key(name)
	before, after := "[\n", "[]"
	for item := range items {
		j.text(before)
		j.value(item)
		before, after = ",\n", "\n]"
	}
	j.text(after)
}

func (j *jsonWriter) end() error {
	j.text("\n}\n")
	if j.err != nil {
		return j.err
	}
	return j.w.Flush()
}

// head is all of the document but its lists.
func (f Facts) head() Document {
	s, h := f.Ref.Settings, f.Ref.Horizon()
	d := Document{
		Schema: SchemaName, Version: Version, Name: s.Name.Value, Editor: s.Editor.Value, Language: s.Language.Value,
		Address: s.PublicURL.Value, Licence: s.Licence.Value, Edition: f.Edition, Horizon: Stretch(h),
		Judgement: Judgement{
			Circa: s.Judgement.Circa.Value, Changeover: s.Judgement.Changeover.Value, Temper: s.Judgement.Temper.Value, Unrecorded: s.Judgement.Unrecorded.Value,
			Credence: map[string]float64{}, Looseness: map[string]float64{},
		},
	}
	if t := s.Judgement.Teach; t.Weight.Value > 0 {
		d.Judgement.Teach = &Teaching{t.Weight.Value, t.Years.Value, t.Steps.Value}
	}
	for kind, c := range s.Judgement.Credence {
		d.Judgement.Credence[string(kind)] = c.Value
	}
	for held, l := range s.Judgement.Looseness {
		d.Judgement.Looseness[held] = l.Value
	}
	return d
}

// lists gives the items of every list of the document, by its key. An item is
// there until the next one is asked for.
func (f Facts) lists() map[string]iter.Seq[any] {
	return map[string]iter.Seq[any]{
		"makers":    each(f.Ref.Makers.All(), f.maker),
		"models":    each(f.Ref.Models.All(), f.model),
		"claims":    eachOf(f.Ref.Claims(), f.claim),
		"conflicts": each(f.Timeline.Conflicts(), conflictOf),
		"features":  each(f.Ref.Features.All(), featureOf),
		"sources":   each(f.Ref.Sources.All(), f.source),
		"examples":  each(f.Ref.Examples.All(), f.example),
		"pages": each(f.Ref.Pages.All(), func(p *schema.Page) Page {
			return Page{Record: recordOf(p), About: p.About.Value}
		}),
	}
}

// each makes an item of everything in a list.
func each[R, T any](list []R, make func(R) T) iter.Seq[any] {
	return eachOf(slices.Values(list), make)
}

// eachOf makes an item of everything in a sequence. An item is there until the
// next one is asked for.
func eachOf[R, T any](list iter.Seq[R], make func(R) T) iter.Seq[any] {
	return func(yield func(any) bool) {
		item := new(T)
		for r := range list {
			*item = make(r)
			if !yield(item) {
				return
			}
		}
	}
}
