package schema

import (
	"bytes"
	"encoding/json"
	"fmt"
	"maps"
	"math"
	"path/filepath"
	"reflect"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/santhosh-tekuri/jsonschema/v6"
	"go.yaml.in/yaml/v3"
)

// compiled gives a kind's schema, held against the 2020-12 meta-schema, which
// the validator has built in and applies to every schema it compiles.
func compiled(t *testing.T, text []byte, err error) *jsonschema.Schema {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
	document, err := jsonschema.UnmarshalJSON(bytes.NewReader(text))
	if err != nil {
		t.Fatal(err)
	}
	if version := document.(map[string]any)["$schema"]; version != "https://json-schema.org/draft/2020-12/schema" {
		t.Fatalf("the schema states %v", version)
	}
	c := jsonschema.NewCompiler()
	c.AssertFormat()
	if err := c.AddResource("schema.json", document); err != nil {
		t.Fatal(err)
	}
	s, err := c.Compile("schema.json")
	if err != nil {
		t.Fatalf("the schema is not valid: %#v", err)
	}
	return s
}

func schemas(t *testing.T) map[Kind]*jsonschema.Schema {
	t.Helper()
	all := map[Kind]*jsonschema.Schema{}
	for _, k := range Kinds {
		text, err := JSONSchema(k)
		all[k] = compiled(t, text, err)
	}
	text, err := SettingsSchema()
	all["reference"] = compiled(t, text, err)
	return all
}

// jsonValue turns YAML into JSON values. Guessing reads scalars as other YAML
// readers do (1964 a number, 1974-05-02 a date); else each stays text.
func jsonValue(t *testing.T, text []byte, guess bool) any {
	t.Helper()
	top, err := parseYAML(text)
	if err != nil || top == nil {
		top, err = parseQuestions(text, err)
	}
	if err != nil {
		t.Fatal(err)
	}
	encoded, err := json.Marshal(plainValue(t, top, guess))
	if err != nil {
		t.Fatal(err)
	}
	v, err := jsonschema.UnmarshalJSON(bytes.NewReader(encoded))
	if err != nil {
		t.Fatal(err)
	}
	return v
}

func plainValue(t *testing.T, n *yaml.Node, guess bool) any {
	switch n.Kind {
	case yaml.MappingNode:
		m := map[string]any{}
		for i := 0; i < len(n.Content); i += 2 {
			if !isNull(n.Content[i+1]) {
				m[n.Content[i].Value] = plainValue(t, n.Content[i+1], guess)
			}
		}
		return m
	case yaml.SequenceNode:
		list := []any{}
		for _, c := range n.Content {
			list = append(list, plainValue(t, c, guess))
		}
		return list
	}
	if !guess {
		return n.Value
	}
	var v any
	if err := n.Decode(&v); err != nil {
		return n.Value
	}
	switch v := v.(type) {
	case time.Time:
		return v.Format(time.DateOnly)
	case float64:
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return n.Value
		}
	}
	return v
}

func frontOf(source []byte) []byte {
	d := &decoder{}
	text := withoutMark(source)
	if p, ok := d.cutFront(text); ok {
		return p.front
	}
	return text
}

// TestSchemasAcceptTheDemonstration: every record, its scalars as text and as
// other YAML readers take them.
func TestSchemasAcceptTheDemonstration(t *testing.T) {
	all := schemas(t)
	ref, _, err := Read("../content")
	if err != nil {
		t.Fatal(err)
	}
	for _, guess := range []bool{true, false} {
		if err := all["reference"].Validate(jsonValue(t, ref.Settings.Source, guess)); err != nil {
			t.Errorf("reference.yaml: %v", err)
		}
		for _, r := range ref.Records() {
			h := r.Header()
			if err := all[h.Kind].Validate(jsonValue(t, frontOf(h.Source), guess)); err != nil {
				t.Errorf("%s (guessing %v): %v", h.File, guess, err)
			}
		}
	}
}

// structural are the checks that a schema can make, where they stand alone.
var structural = []string{CheckUnknownKey, CheckMisplacedKey, CheckWrongType, CheckUnknownValue, CheckNoYears, CheckTwoSpans, CheckMissingKey, CheckOutOfBounds}

// beyond are the findings of the fixtures that only the checker can make, since
// they need more than the structure of one record.
var beyond = map[string]string{
	"names/examples": "values of another record", "names/examples-range": "values of another record",
	"names/dangling": "values of another record", "features/patterns": "kinds of another record",
	"types/horizon": "what years mean", "types/wide": "what years mean", "figures/lasts": "what figures mean",
	"figures/fine-step": "what figures mean", "figures/one-plausible": "what figures mean",
	"fences/no-keys": "there is nothing to hold it against", "fences/comment-only": "there is nothing to hold it against",
	"keys/quoted-note": "a key without a value counts as absent here", "types/private-comma": "a key without a value counts as absent here",
	"types/language": "the form of a language tag",
	"places/files":   "the endings of files",
	"plates/plate":   "which claims there are", "plates/like": "which values there are",
}

// TestSchemasAgreeWithTheReader: what the reader takes a schema takes; what
// the reader refuses for its structure a schema refuses.
func TestSchemasAgreeWithTheReader(t *testing.T) {
	all := schemas(t)
	files, _ := filepath.Glob("testdata/*.txtar")
	refused := 0
	for _, file := range files {
		topic := strings.TrimSuffix(filepath.Base(file), ".txtar")
		cases := fixturesOf(t, file)
		for _, id := range slices.Sorted(maps.Keys(cases)) {
			for _, name := range slices.Sorted(maps.Keys(cases[id].files)) {
				f := cases[id].files[name]
				kind, _, ok := RecordAt(name)
				if name == SettingsFile {
					kind, ok = "reference", true
				}
				if !ok {
					continue
				}
				if strings.HasSuffix(id, ".ok") || topic == "base" {
					if err := all[kind].Validate(jsonValue(t, frontOf(f.Data), true)); err != nil {
						t.Errorf("%s/%s: %s is refused: %v", topic, id, name, err)
					}
					continue
				}
				if _, known := beyond[topic+"/"+id]; known || !wantsStructure(cases[id], name) {
					continue
				}
				refused++
				if all[kind].Validate(jsonValue(t, frontOf(f.Data), true)) == nil {
					t.Errorf("%s/%s: the schema takes %s, which the reader refuses", topic, id, name)
				}
			}
		}
	}
	if refused < 15 {
		t.Errorf("only %d records were there to be refused", refused)
	}
}

func wantsStructure(c *fixture, file string) bool {
	for _, w := range c.wants {
		if strings.HasPrefix(w.at, file+":") && slices.Contains(structural, w.check) {
			return true
		}
	}
	return false
}

// TestSchemasNameEveryKey: a key of the types is in the schema with its
// sentence, and the other way round.
func TestSchemasNameEveryKey(t *testing.T) {
	for _, k := range Kinds {
		text, err := JSONSchema(k)
		if err != nil {
			t.Fatal(err)
		}
		var s struct {
			ID         string `json:"$id"`
			Title      string
			Properties map[string]struct{ Description string }
			Required   []string
		}
		if err := json.Unmarshal(text, &s); err != nil {
			t.Fatal(err)
		}
		want := append([]string{"record"}, planOf(reflect.TypeOf(k.row().make()).Elem()).names("")...)
		slices.Sort(want)
		if have := slices.Sorted(maps.Keys(s.Properties)); !slices.Equal(have, want) {
			t.Errorf("%s: keys %v, want %v", k, have, want)
		}
		for name, p := range s.Properties {
			if !strings.HasSuffix(p.Description, ".") && !strings.HasSuffix(p.Description, "…") {
				t.Errorf("%s: %s is described as %q", k, name, p.Description)
			}
		}
		if s.ID != fmt.Sprintf("urn:yearmark:schema:%s", k) || s.Title == "" || !slices.Contains(s.Required, "record") {
			t.Errorf("%s: id %q, title %q, required %v", k, s.ID, s.Title, s.Required)
		}
	}
	if _, err := JSONSchema("thing"); err == nil {
		t.Error("there is a schema of no kind")
	}
}

// TestSchemasAreTheSameEachTime: the bytes are published.
func TestSchemasAreTheSameEachTime(t *testing.T) {
	for _, k := range Kinds {
		first, _ := JSONSchema(k)
		for range 3 {
			if again, _ := JSONSchema(k); !bytes.Equal(first, again) {
				t.Fatalf("the schema of a %s changes", k)
			}
		}
	}
}
