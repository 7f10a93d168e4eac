package schema

import (
	"encoding/json"
	"testing"
)

// TestDescriptionsNameTheKeysOfTheJSONSchemas: both are made of the same tags,
// by different ways.
func TestDescriptionsNameTheKeysOfTheJSONSchemas(t *testing.T) {
	for _, kind := range Kinds {
		data, err := JSONSchema(kind)
		if err != nil {
			t.Fatal(err)
		}
		var schema struct {
			Properties map[string]json.RawMessage `json:"properties"`
			Required   []string                   `json:"required"`
		}
		if err := json.Unmarshal(data, &schema); err != nil {
			t.Fatal(err)
		}
		group := Describe(kind)
		if len(group.Fields) != len(schema.Properties)-1 { // record is of every kind
			t.Errorf("%s: %d keys described, %d in the schema", kind, len(group.Fields), len(schema.Properties)-1)
		}
		for _, f := range group.Fields {
			if _, ok := schema.Properties[f.Name]; !ok || f.About == "" || f.Type == "" {
				t.Errorf("%s: %+v is not in the schema, or says nothing of itself", kind, f)
			}
		}
		for _, name := range schema.Required {
			if f := group.Field(name); name != "record" && (f == nil || !f.Required) {
				t.Errorf("%s: %s is required by the schema alone", kind, name)
			}
		}
	}
	claim := describedField(t, KindModel, "features")
	if claim.Noun != "a feature claim" || !claim.List || claim.Field("range") != nil || claim.Field("cites").Type != FieldCitation || !claim.Field("feature").Required {
		t.Errorf("a feature claim is described as %+v", claim)
	}
	if held := claim.Field("held"); len(held.Options) != 3 {
		t.Errorf("held has the options %q", held.Options)
	}
}

func describedField(t *testing.T, kind Kind, name string) *Field {
	t.Helper()
	group := Describe(kind)
	f := group.Field(name)
	if f == nil {
		t.Fatalf("a %s has no key %s", kind, name)
	}
	return f
}
