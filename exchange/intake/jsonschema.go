package intake

import (
	"bytes"
	"encoding/json"
	"sync"

	"github.com/invopop/jsonschema"
	validator "github.com/santhosh-tekuri/jsonschema/v6"
)

// SchemaName is the file name under which the schema is published.
const SchemaName = "submission.schema.json"

// Schema gives the JSON Schema (2020-12) of submissions. It is the one that
// Read enforces.
func Schema() []byte { return schemas().text }

// maxValue is how many characters an observed value may have.
const maxValue = 200

// JSONSchemaExtend bounds the values themselves, which no tag of a list can.
func (Seen) JSONSchemaExtend(s *jsonschema.Schema) {
	if values, ok := s.Properties.Get("values"); ok {
		least, most := uint64(1), uint64(maxValue)
		values.Items.MinLength, values.Items.MaxLength = &least, &most
	}
}

// JSONSchemaExtend wants a part's state, its fault, or both.
func (Part) JSONSchemaExtend(s *jsonschema.Schema) {
	s.AnyOf = []*jsonschema.Schema{{Required: []string{"state"}}, {Required: []string{"fault"}}}
}

// published is the schema as text and ready to validate.
type published struct {
	text     []byte
	compiled *validator.Schema
}

// schemas makes the schema from the Go types. That this cannot fail, a test proves.
var schemas = sync.OnceValue(func() published {
	r := jsonschema.Reflector{ExpandedStruct: true, Anonymous: true, RequiredFromJSONSchemaTags: true}
	s := r.Reflect(&Submission{})
	s.ID, s.Title = "urn:yearmark:schema:submission", "A submission: what a visitor saw on a bow"
	text, err := json.MarshalIndent(s, "", "  ")
	if err != nil {
		panic("the schema of submissions cannot be written: " + err.Error())
	}
	document, err := validator.UnmarshalJSON(bytes.NewReader(text))
	if err != nil {
		panic("the schema of submissions cannot be read: " + err.Error())
	}
	c := validator.NewCompiler()
	if err := c.AddResource("submission.json", document); err != nil {
		panic("the schema of submissions cannot be added: " + err.Error())
	}
	compiled, err := c.Compile("submission.json")
	if err != nil {
		panic("the schema of submissions is not valid: " + err.Error())
	}
	return published{append(text, '\n'), compiled}
})
