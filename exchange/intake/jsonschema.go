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

var schemas = schemaOf(&Submission{}, "urn:yearmark:schema:submission", "A submission: what a visitor saw on a bow")

// schemaOf makes a schema from a Go type when it is first asked for. That this
// cannot fail, a test proves.
func schemaOf(of any, id, title string) func() published {
	return sync.OnceValue(func() published {
		r := jsonschema.Reflector{ExpandedStruct: true, Anonymous: true, RequiredFromJSONSchemaTags: true}
		s := r.Reflect(of)
		s.ID, s.Title = jsonschema.ID(id), title
		text, err := json.MarshalIndent(s, "", "  ")
		if err != nil {
			panic(id + " cannot be written: " + err.Error())
		}
		document, err := validator.UnmarshalJSON(bytes.NewReader(text))
		if err != nil {
			panic(id + " cannot be read: " + err.Error())
		}
		c := validator.NewCompiler()
		if err := c.AddResource("form.json", document); err != nil {
			panic(id + " cannot be added: " + err.Error())
		}
		compiled, err := c.Compile("form.json")
		if err != nil {
			panic(id + " is not valid: " + err.Error())
		}
		return published{append(text, '\n'), compiled}
	})
}
