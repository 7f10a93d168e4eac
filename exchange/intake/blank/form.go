package blank

import (
	"bytes"
	"embed"
	"fmt"
	"strconv"
	"strings"
	"text/template"
	"unicode"

	"yearmark/schema"
)

//go:embed forms
var forms embed.FS

// formView is what a form is filled in with.
type formView struct {
	ID, Name, Span, Cite           string
	Makers, Models, Kinds, Sources string
	Features, Figures              []featureView
}

// featureView is a feature in the comments of a form.
type featureView struct{ ID, Unit, ask, values string }

// The words that several forms share.
const (
	spanHelp = "the years: 1965, 1964/1967, 1964~/1967 (about), 196X, 1964/.. (still made), {from: 1964..1965, to: 1966}"
	citeHelp = `"list-1964, p. 6"`
)

// Form gives the text of a blank record.
func Form(ref *schema.Reference, kind schema.Kind, id string) ([]byte, error) {
	text, err := forms.ReadFile("forms/" + string(kind) + ".md")
	if err != nil {
		return nil, fmt.Errorf("there is no kind of record %q", kind)
	}
	form, err := template.New(string(kind)).Parse(string(text))
	if err != nil {
		return nil, err
	}
	view := formView{
		ID: id, Name: named(id), Span: spanHelp, Cite: citeHelp,
		Makers: some(ids(&ref.Makers)), Models: some(ids(&ref.Models)), Sources: some(ids(&ref.Sources)), Kinds: kinds(),
	}
	for _, f := range ref.Features.All() {
		view.add(f)
	}
	var b bytes.Buffer
	fmt.Fprintf(&b, "---\n# yaml-language-server: $schema=../%s\n", schemaFile(string(kind)))
	if err := form.Execute(&b, view); err != nil {
		return nil, err
	}
	fmt.Fprintf(&b, "---\n\n")
	return b.Bytes(), nil
}

func (v *formView) add(f *schema.Feature) {
	one := featureView{ID: oneLine(f.ID), ask: oneLine(f.Ask.Value)}
	switch schema.FeatureKind(f.Kind.Value) {
	case schema.Figure:
		if f.Unit.Value != "" {
			one.Unit = " " + f.Unit.Value
		}
		v.Figures = append(v.Figures, one)
		return
	case schema.Presence:
		one.values = "present or absent"
	case schema.Choice:
		var values []string
		for _, value := range f.Values {
			values = append(values, value.ID.Value)
		}
		one.values = some(values)
	}
	v.Features = append(v.Features, one)
}

// Question is a comment with what the feature asks and the answers to choose from.
func (f featureView) Question() string {
	if f.ask != "" && f.values != "" {
		return comment(f.ask + " " + f.values)
	}
	return comment(f.ask + f.values)
}

// Answers is a comment with the values to choose from.
func (f featureView) Answers() string { return comment(f.values) }

func comment(text string) string {
	if text == "" {
		return ""
	}
	return "   # " + text
}

// oneLine keeps a comment a comment.
func oneLine(s string) string {
	return strings.Join(strings.FieldsFunc(s, func(r rune) bool { return unicode.IsSpace(r) || unicode.IsControl(r) }), " ")
}

// most is how many names a comment lists.
const most = 12

// some lists names in a comment, the first of many.
func some(names []string) string {
	if len(names) > most {
		return oneLine(strings.Join(names[:most], ", ")) + " …"
	}
	if len(names) == 0 {
		return "none is there yet"
	}
	return oneLine(strings.Join(names, ", "))
}

func kinds() string {
	var all []string
	for _, k := range schema.SourceKinds {
		all = append(all, string(k))
	}
	return strings.Join(all, ", ")
}

func ids[R schema.Record](s *schema.Collection[R]) []string {
	var all []string
	for _, r := range s.All() {
		all = append(all, r.Header().ID)
	}
	return all
}

// named makes a name of an identifier: "grey-plover" becomes "Grey plover". It
// is quoted, since it may be a figure or a word that YAML takes for another.
func named(id string) string {
	words := strings.ReplaceAll(id, "-", " ")
	if words == "" {
		return `""`
	}
	return strconv.Quote(strings.ToUpper(words[:1]) + words[1:])
}
