package exports

import (
	"encoding/json"
	"io"

	"github.com/invopop/jsonschema"
)

// writeSchema writes the JSON Schema of reference.json, made from its Go types.
func writeSchema(w io.Writer) error {
	r := &jsonschema.Reflector{ExpandedStruct: true, Anonymous: true}
	s := r.Reflect(&Document{})
	s.ID, s.Title = "urn:yearmark:schema:reference-json", "A reference as one JSON file"
	s.Description = "Made by yearmark. Years are whole calendar years; spans as written are EDTF (ISO 8601-2)."
	nullable(s.Definitions["Claim"], "stated", "years")
	data, err := json.MarshalIndent(s, "", "  ")
	if err != nil {
		return err
	}
	_, err = w.Write(append(data, '\n'))
	return err
}

// nullable lets keys be null.
func nullable(s *jsonschema.Schema, keys ...string) {
	for _, key := range keys {
		property, ok := s.Properties.Get(key)
		if !ok {
			continue
		}
		is := &jsonschema.Schema{Ref: property.Ref}
		property.Ref = ""
		property.AnyOf = []*jsonschema.Schema{is, {Type: "null"}}
	}
}
