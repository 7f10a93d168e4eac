package blank

import (
	"fmt"
	"strings"

	"yearmark/exchange/journal"
	"yearmark/schema"
)

// Written says what Write wrote.
type Written struct {
	Record  string // its path below the reference's folder
	Schemas int    // how many were not there yet
}

// Write writes a blank record through the journal, and the schemas by which
// editors complete keys. Without an identifier an example gets the next number.
// Nothing is ever written over.
func Write(j *journal.Journal, ref *schema.Reference, kind schema.Kind, id string) (w Written, err error) {
	if id == "" && kind == schema.KindExample {
		id = ref.NextNumber()
	}
	if err := admitted(kind, id); err != nil {
		return w, err
	}
	text, err := Form(ref, kind, id)
	if err != nil {
		return w, err
	}
	all, err := Schemas()
	if err != nil {
		return w, err
	}
	w.Record = kind.FileOf(id)
	if j.Exists(w.Record) {
		return w, fmt.Errorf("%s is there already, and nothing is written over", w.Record)
	}
	if err := j.Write("", []journal.Change{{File: w.Record, After: text}}); err != nil {
		return w, err
	}
	w.Schemas, err = j.Furnish(all)
	return w, err
}

// admitted refuses an identifier that no record can have.
func admitted(kind schema.Kind, id string) error {
	if _, ok := schema.NameFault(kind, id); !ok {
		return fmt.Errorf("%q cannot name a %s: use small letters a to z, digits and hyphens, as in %s", id, kind, instead(id))
	}
	return nil
}

// instead gives an identifier near to a text.
func instead(text string) string {
	near := strings.Trim(strings.Join(strings.FieldsFunc(strings.ToLower(text), func(r rune) bool {
		return (r < 'a' || r > 'z') && (r < '0' || r > '9')
	}), "-"), "-")
	if near == "" || near == text {
		return "plover"
	}
	return near
}

// Schemas gives the JSON Schemas by which editors complete keys, by path below
// the reference's folder.
func Schemas() (map[string][]byte, error) {
	all := map[string][]byte{}
	for _, kind := range schema.Kinds {
		data, err := schema.JSONSchema(kind)
		if err != nil {
			return nil, err
		}
		all[schemaFile(string(kind))] = data
	}
	data, err := schema.SettingsSchema()
	all[schemaFile("reference")] = data
	return all, err
}

func schemaFile(kind string) string { return journal.Folder + "/" + kind + ".schema.json" }
