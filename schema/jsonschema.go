package schema

import (
	"encoding/json"
	"fmt"
	"maps"
	"reflect"
	"slices"
	"strconv"
	"strings"

	"github.com/invopop/jsonschema"
)

// JSONSchema gives the JSON Schema (2020-12) of a kind of record, for editors
// that complete and check keys. It follows the same struct tags as the reader.
// It takes figures and years as text or as numbers, since other YAML readers
// see 1964 as a number. What needs the rest of a reference it leaves to the
// checker.
func JSONSchema(kind Kind) ([]byte, error) {
	row := kind.row()
	if row == nil {
		return nil, fmt.Errorf("there is no kind of record %q", kind)
	}
	s := reflectSchema(reflect.TypeOf(row.make()).Elem())
	s.ID, s.Title = jsonschema.ID("urn:yearmark:schema:"+string(kind)), "A "+string(kind)+" record"
	s.Properties.Set("record", &jsonschema.Schema{Const: string(kind), Description: "The kind of this record."})
	_ = s.Properties.MoveToFront("record")
	s.Required = append([]string{"record"}, s.Required...)
	if kind == KindFeature {
		s.AllOf = featureKinds()
	}
	return json.MarshalIndent(s, "", "  ")
}

// SettingsSchema gives the JSON Schema (2020-12) of reference.yaml.
func SettingsSchema() ([]byte, error) {
	s := reflectSchema(reflect.TypeFor[Settings]())
	s.ID, s.Title = "urn:yearmark:schema:reference", "The settings of a reference"
	return json.MarshalIndent(s, "", "  ")
}

// reflectSchema makes the schema of a struct type and of all that it holds.
func reflectSchema(t reflect.Type) *jsonschema.Schema {
	s := newReflector().ReflectFromType(t)
	refine(s, t)
	defs := s.Definitions
	delete(defs, t.Name())
	for name, sample := range structTypes {
		if def, ok := defs[name]; ok {
			refine(def, sample)
		}
	}
	claimDefinitions(s, t)
	addLeaves(s)
	return s
}

func newReflector() *jsonschema.Reflector {
	return &jsonschema.Reflector{FieldNameTag: "yaml", RequiredFromJSONSchemaTags: true, ExpandedStruct: true, Anonymous: true, Mapper: leafSchema}
}

// structTypes are the types that hold keys of their own, by the name of their definition.
var structTypes = func() map[string]reflect.Type {
	all := map[string]reflect.Type{}
	for _, sample := range []any{
		Claim{}, Settlement{}, WeightMarks{}, SpecialOrders{}, SaysNothing{}, Order{}, Related{}, Output{}, Withdrawn{}, Plate{}, Point{}, FeatureValue{}, Likeness{},
		Altered{}, Copied{}, Observed{}, Documented{}, Condition{}, Shown{}, Submitted{}, Judgement{}, Count{},
		SourcePlace{}, Recording{}, Mending{}, Person{}, Attribution{}, Setup{}, Event{}, Sale{},
		Rate{}, Meaning{}, Hint{}, Namesake{}, Gap{},
	} {
		all[reflect.TypeOf(sample).Name()] = reflect.TypeOf(sample)
	}
	return all
}()

// refine adds what the library does not take from the tags: allowed values and limits.
func refine(s *jsonschema.Schema, t reflect.Type) {
	p := planOf(t)
	for i := range p.keys {
		k := &p.keys[i]
		property, ok := s.Properties.Get(k.name)
		if !ok {
			continue
		}
		for _, word := range k.enum {
			property.Enum = append(property.Enum, word)
		}
		if k.limits != nil && property.Ref != "" {
			k.limits.bound(property)
		}
	}
	switch t {
	case reflect.TypeFor[Maker]():
		marks, _ := s.Properties.Get("weight-marks")
		one := &jsonschema.Schema{Ref: "#/$defs/WeightMarks"}
		*marks = jsonschema.Schema{Description: marks.Description, AnyOf: []*jsonschema.Schema{one, {Type: "array", Items: one}}}
	case reflect.TypeFor[Feature]():
		unit, _ := s.Properties.Get("unit")
		unit.Pattern = "^(" + strings.Join(unitNames, "|") + "|[A-Z]{3})$"
	case reflect.TypeFor[Point]():
		at, _ := s.Properties.Get("at")
		two := uint64(2)
		share := &jsonschema.Schema{Ref: "#/$defs/number", Minimum: "0", Maximum: "100"}
		*at = jsonschema.Schema{Description: at.Description, Type: "array", Items: share, MinItems: &two, MaxItems: &two}
	case reflect.TypeFor[Condition]():
		s.AnyOf = []*jsonschema.Schema{{Required: []string{"state"}}, {Required: []string{"fault"}}}
	case reflect.TypeFor[Order]():
		s.OneOf = []*jsonschema.Schema{{Required: []string{"first", "how", "second"}}, {Required: []string{"of", "lasts"}}}
	}
}

// bound writes limits into a schema, for figures that are written as numbers.
func (l *limits) bound(s *jsonschema.Schema) {
	low := json.Number(strconv.FormatFloat(l.low, 'f', -1, 64))
	if l.above {
		s.ExclusiveMinimum = low
	} else {
		s.Minimum = low
	}
	s.Maximum = json.Number(strconv.FormatFloat(l.high, 'f', -1, 64))
}

// claimDefinitions makes of the one definition Claim one for each kind of
// claim in a record, with the keys that such a claim may have.
func claimDefinitions(s *jsonschema.Schema, t reflect.Type) {
	claim, ok := s.Definitions["Claim"]
	if !ok {
		return
	}
	delete(s.Definitions, "Claim")
	p := planOf(t)
	for i := range p.keys {
		k := &p.keys[i]
		if k.child == "" {
			continue
		}
		name := string(k.child) + "-claim"
		s.Definitions[name] = claimOf(k.child, claim)
		property, _ := s.Properties.Get(k.name)
		if property.Items != nil {
			property.Items = &jsonschema.Schema{Ref: "#/$defs/" + name}
		} else {
			property.Ref = "#/$defs/" + name
		}
	}
}

// claimOf is the definition of one kind of claim: a span or, where they may
// stand in its place, an era or attestations.
func claimOf(about About, claim *jsonschema.Schema) *jsonschema.Schema {
	s := &jsonschema.Schema{Type: "object", Properties: jsonschema.NewProperties(), AdditionalProperties: jsonschema.FalseSchema}
	p := planOf(reflect.TypeFor[Claim]())
	for i := range p.keys {
		k := &p.keys[i]
		if !k.kinds.has(about) {
			continue
		}
		property, _ := claim.Properties.Get(k.name)
		s.Properties.Set(k.name, property)
		if k.must.has(about) {
			s.Required = append(s.Required, k.name)
		}
	}
	if about == AboutEra {
		return s // an order may place it, which no schema can see
	}
	if _, ok := s.Properties.Get("attested"); !ok {
		s.Required = append(s.Required, "span")
		return s
	}
	stands := []string{"span", "era", "attested"}
	if _, ok := s.Properties.Get("era"); ok {
		s.Not = &jsonschema.Schema{Required: []string{"span", "era"}}
		if about == AboutFeature {
			stands = append(stands, "id") // an order may place it
		}
	}
	for _, key := range stands {
		if _, ok := s.Properties.Get(key); ok {
			s.AnyOf = append(s.AnyOf, &jsonschema.Schema{Required: []string{key}})
		}
	}
	return s
}

// featureKinds holds a feature's keys against its kind.
func featureKinds() []*jsonschema.Schema {
	with := func(kind FeatureKind, required string, barred ...string) *jsonschema.Schema {
		is := jsonschema.NewProperties()
		is.Set("kind", &jsonschema.Schema{Const: string(kind)})
		then := &jsonschema.Schema{Properties: jsonschema.NewProperties()}
		for _, name := range barred {
			then.Properties.Set(name, jsonschema.FalseSchema)
		}
		if required != "" {
			then.Required = []string{required}
		}
		return &jsonschema.Schema{If: &jsonschema.Schema{Properties: is, Required: []string{"kind"}}, Then: then}
	}
	return []*jsonschema.Schema{
		with(Choice, "values", "unit", "plausible", "step"),
		with(Presence, "", "values", "unit", "plausible", "step"),
		with(Wording, "", "values", "unit", "plausible", "step"),
		with(Figure, "plausible", "values"),
	}
}

// leafSchema refers to the definition of a type that is written as one word,
// or as a list of such, instead of the fields that it has in Go.
func leafSchema(t reflect.Type) *jsonschema.Schema {
	if name, ok := leafNames[t]; ok {
		return &jsonschema.Schema{Ref: "#/$defs/" + name}
	}
	if t.Kind() != reflect.Slice {
		return nil
	}
	name, ok := leafNames[t.Elem()]
	if !ok {
		return nil
	}
	one := &jsonschema.Schema{Ref: "#/$defs/" + name}
	return &jsonschema.Schema{AnyOf: []*jsonschema.Schema{one, {Type: "array", Items: one}}}
}

var leafNames = map[reflect.Type]string{
	reflect.TypeFor[Text]():                  "text",
	reflect.TypeFor[Number]():                "number",
	reflect.TypeFor[Whole]():                 "whole",
	reflect.TypeFor[Flag]():                  "flag",
	reflect.TypeFor[Span]():                  "span",
	reflect.TypeFor[Range]():                 "range",
	reflect.TypeFor[Citation]():              "citation",
	reflect.TypeFor[Region]():                "region",
	reflect.TypeFor[Attestation]():           "attestation",
	reflect.TypeFor[OtherName]():             "other-name",
	reflect.TypeFor[Teaching]():              "teaching",
	reflect.TypeFor[Dispute]():               "dispute",
	reflect.TypeFor[[]MarkSign]():            "signs",
	reflect.TypeFor[[]Premise]():             "conditions",
	reflect.TypeFor[[]PrivateKey]():          "private",
	reflect.TypeFor[map[SourceKind]Number](): "credence",
	reflect.TypeFor[map[string]Number]():     "looseness",
}

// leaves are the definitions of what is written as one word. Another YAML
// reader may take the word for a number, a truth value or a date.
func leaves() jsonschema.Definitions {
	is := func(kind string) *jsonschema.Schema { return &jsonschema.Schema{Type: kind} }
	like := func(pattern string) *jsonschema.Schema {
		return &jsonschema.Schema{Type: "string", Pattern: pattern}
	}
	either := func(about string, of ...*jsonschema.Schema) *jsonschema.Schema {
		return &jsonschema.Schema{Description: about, AnyOf: of}
	}
	ref := func(name string) *jsonschema.Schema { return &jsonschema.Schema{Ref: "#/$defs/" + name} }
	return jsonschema.Definitions{
		"text":        either("A word or a sentence.", is("string"), is("number"), is("boolean")),
		"number":      either("A number, as in 0.1.", is("number"), like(`^[-+−]?[0-9][0-9 /.⁄-]*[¼½¾⅛⅜⅝⅞⅓⅔⅕⅖⅗⅘⅙⅚]?$|^[-+−]?[¼½¾⅛⅜⅝⅞⅓⅔⅕⅖⅗⅘⅙⅚]$`)),
		"whole":       either("A whole number.", is("integer"), like(`^-?[0-9]+$`)),
		"flag":        either("true or false.", is("boolean"), &jsonschema.Schema{Enum: []any{"true", "false"}}),
		"span":        either("Years in EDTF (ISO 8601-2): 1965, 1964/1967, 1964~/1967, 1968?, 196X, 1964/.., \"[1966,1968]\"; or bounds, {from: 1964..1965, to: 1966}.", is("integer"), like(`[0-9]`), bounds()),
		"range":       either("One figure or two, and a unit: 30..55 lb, 7 1/4..7 3/4 in, 2..3.", is("number"), like(`[0-9¼½¾⅛⅜⅝⅞⅓⅔⅕⅖⅗⅘⅙⅚]`)),
		"citation":    either("A source and a place in it, in quotes: \"list-1964, p. 6\".", is("integer"), like(`^\s*[a-z0-9]([a-z0-9-]*[a-z0-9])?\s*(,|$)`)),
		"region":      {Description: "A part of a scan, in per cent or pixels: left, top, width, height.", Type: "string", Pattern: `^xywh=(pixel:|percent:)?[0-9]{1,6}(,[0-9]{1,6}){3}$`},
		"attestation": either("A year in which it was seen, and where.", ref("whole"), ref("Attestation")),
		"other-name":  either("Another name, alone or with its years and who says so.", ref("text"), ref("OtherName")),
		"teaching":    either("How dated examples and counts teach, or off.", ref("Teaching"), &jsonschema.Schema{Enum: []any{"off", false}}),
		"dispute":     either("true, false, or with whom.", ref("flag"), ref("Dispute")),
		"signs":       {Description: "Signs, each with what it adds: {\"•\": -1 lb}.", Type: "object", AdditionalProperties: ref("range")},
		"conditions":  {Description: "Features, each with a value, several, or a range that may be open at one end: {draw-weight: ..39 lb}.", Type: "object", AdditionalProperties: either("", ref("text"), &jsonschema.Schema{Type: "array", Items: ref("text")})},
		"private":     {Description: "What never leaves the folder: keys and values of your own.", Type: "object", AdditionalProperties: ref("text")},
		"credence":    shares("How far each kind of source is believed, from 0 to 1.", names(SourceKinds)),
		"looseness":   shares("How often a bow departs from the maker's habit, from 0 to 1.", []string{"firm", "usual", "loose"}),
	}
}

// bounds is a span whose ends may lie in several years.
func bounds() *jsonschema.Schema {
	s := &jsonschema.Schema{Type: "object", Properties: jsonschema.NewProperties(), AdditionalProperties: jsonschema.FalseSchema, MinProperties: new(uint64)}
	*s.MinProperties = 1
	for _, end := range []string{"from", "to"} {
		s.Properties.Set(end, &jsonschema.Schema{AnyOf: []*jsonschema.Schema{{Type: "integer"}, {Type: "string", Pattern: `[0-9]|^\.\.$`}}})
	}
	return s
}

// shares is a mapping from given words to numbers from 0 to 1.
func shares(about string, words []string) *jsonschema.Schema {
	s := &jsonschema.Schema{Description: about, Type: "object", Properties: jsonschema.NewProperties(), AdditionalProperties: jsonschema.FalseSchema}
	for _, word := range words {
		s.Properties.Set(word, &jsonschema.Schema{Ref: "#/$defs/number", Minimum: "0", Maximum: "1"})
	}
	return s
}

// addLeaves adds the definitions that the schema refers to, and no others.
func addLeaves(s *jsonschema.Schema) {
	all := leaves()
	all["Attestation"] = structSchema(reflect.TypeFor[Attestation]())
	all["OtherName"] = structSchema(reflect.TypeFor[OtherName]())
	all["Teaching"] = structSchema(reflect.TypeFor[Teaching]())
	all["Dispute"] = structSchema(reflect.TypeFor[Dispute]())
	for missing := true; missing; {
		missing = false
		text, err := json.Marshal(s)
		if err != nil {
			return
		}
		for _, name := range slices.Sorted(maps.Keys(all)) {
			if _, have := s.Definitions[name]; !have && strings.Contains(string(text), `"#/$defs/`+name+`"`) {
				s.Definitions[name], missing = all[name], true
			}
		}
	}
}

// structSchema is that of the keys of a type that may also be written as one word.
func structSchema(itself reflect.Type) *jsonschema.Schema {
	r := newReflector()
	r.Mapper = func(t reflect.Type) *jsonschema.Schema {
		if t == itself {
			return nil
		}
		return leafSchema(t)
	}
	s := r.ReflectFromType(itself)
	refine(s, itself)
	s.Version, s.Definitions = "", nil
	return s
}
