package schema

import "reflect"

// FieldType is how the value of a key is written.
type FieldType string

// The types of field.
const (
	FieldText     FieldType = "text"
	FieldNumber   FieldType = "number"
	FieldWhole    FieldType = "whole"
	FieldFlag     FieldType = "flag"
	FieldSpan     FieldType = "span"     // years in EDTF
	FieldRange    FieldType = "range"    // figures and a unit
	FieldCitation FieldType = "citation" // a source and a place in it
	FieldGroup    FieldType = "group"    // keys of its own, those in Fields
	FieldDispute  FieldType = "dispute"  // true, false, or a mapping with the claims that it is with
	FieldOther    FieldType = "other"    // written in a form of its own: signs, private keys, credences
)

// Field describes one key of a record for those who make forms of it. It
// follows the same struct tags as the reader and the JSON Schemas.
type Field struct {
	Name     string
	About    string // one sentence for people
	Noun     string // of a group, what people call one: "a feature claim"
	Type     FieldType
	List     bool
	Required bool
	OrOne    bool     // of a list: one entry may stand without the list
	OrWord   bool     // of a group: the first of its keys alone may be written as one word
	Options  []string // the words allowed, if any
	Fields   []Field  // of a group
}

// Field finds a key of a group, or answers nil.
func (f *Field) Field(name string) *Field {
	for i := range f.Fields {
		if f.Fields[i].Name == name {
			return &f.Fields[i]
		}
	}
	return nil
}

// Describe gives a kind of record, which must be one of Kinds, as a group of
// the keys that it may hold, in the order in which records have them.
func Describe(kind Kind) Field {
	return describeStruct(reflect.TypeOf(kind.row().make()).Elem(), "")
}

// DescribeSettings describes reference.yaml.
func DescribeSettings() Field { return describeStruct(reflect.TypeFor[Settings](), "") }

func describeStruct(t reflect.Type, about About) Field {
	p := planOf(t)
	group := Field{Noun: p.noun, Type: FieldGroup}
	if about != "" {
		group.Noun = aboutNouns[about]
	}
	for i := range p.keys {
		k := &p.keys[i]
		if about != "" && k.kinds != 0 && !k.kinds.has(about) {
			continue
		}
		f := describeType(t.Field(k.index).Type, k)
		f.Name, f.About, f.Options = k.name, Sentence(k.about), k.enum
		f.Required = k.isRequired(about)
		group.Fields = append(group.Fields, f)
	}
	return group
}

// fieldTypes are the types that are written as one word or sentence.
var fieldTypes = map[reflect.Type]FieldType{
	reflect.TypeFor[Text](): FieldText, reflect.TypeFor[Number](): FieldNumber, reflect.TypeFor[Whole](): FieldWhole,
	reflect.TypeFor[Flag](): FieldFlag, reflect.TypeFor[Dispute](): FieldDispute, reflect.TypeFor[Span](): FieldSpan, reflect.TypeFor[Range](): FieldRange,
	reflect.TypeFor[Region](): FieldText, reflect.TypeFor[Citation](): FieldCitation,
}

func describeType(t reflect.Type, k *key) Field {
	switch {
	case fieldTypes[t] != "":
		return Field{Type: fieldTypes[t]}
	case t.Kind() == reflect.Pointer:
		return describeType(t.Elem(), k)
	case t == reflect.TypeFor[[]MarkSign](), t == reflect.TypeFor[[]Premise](), t == reflect.TypeFor[[]PrivateKey](), t == reflect.TypeFor[Teaching](), t.Kind() == reflect.Map:
		return Field{Type: FieldOther}
	case t.Kind() == reflect.Slice:
		f := describeType(t.Elem(), k)
		f.List, f.OrOne = true, t == reflect.TypeFor[[]*WeightMarks]()
		return f
	case t.Kind() == reflect.Struct:
		f := describeStruct(t, k.child)
		f.OrWord = t == reflect.TypeFor[OtherName]()
		return f
	}
	return Field{Type: FieldOther}
}
