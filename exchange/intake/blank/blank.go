package blank

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"slices"
	"strconv"
	"strings"

	"yearmark/schema"
)

// SchemaFolder is where the schemas for editors are kept. A hidden folder is
// no part of a reference.
const SchemaFolder = ".yearmark"

// Written says what Write wrote, as paths below the reference's folder.
type Written struct {
	Record  string
	Schemas []string // those that were not there yet
}

// Write writes a blank record into the reference's folder, and the schema that
// its first line names where it is not there yet. Without an identifier an
// example gets the next number. Nothing is ever written over.
func Write(folder string, ref *schema.Reference, kind schema.Kind, id string) (Written, error) {
	if id == "" && kind == schema.KindExample {
		id = nextNumber(ref)
	}
	if err := admitted(kind, id); err != nil {
		return Written{}, err
	}
	text, err := Form(ref, kind, id)
	if err != nil {
		return Written{}, err
	}
	root, err := os.OpenRoot(folder)
	if err != nil {
		return Written{}, fmt.Errorf("the folder %q cannot be opened: %w", folder, plainError(err))
	}
	defer root.Close()
	w := Written{Record: kind.Folder() + "/" + id + ".md"}
	if err := create(root, w.Record, text); err != nil {
		if errors.Is(err, fs.ErrExist) {
			return w, fmt.Errorf("%s is there already, and nothing is written over", w.Record)
		}
		return w, fmt.Errorf("cannot write %s: %w", w.Record, plainError(err))
	}
	w.Schemas, err = writeSchemas(root)
	return w, err
}

// admitted refuses an identifier that no record can have.
func admitted(kind schema.Kind, id string) error {
	_, problems := schema.ReadRecord(kind.Folder()+"/"+id+".md", []byte("---\nrecord: "+string(kind)+"\n---\n"))
	for _, p := range problems {
		if p.Check == schema.CheckBadIdentifier || p.Check == schema.CheckStrayFile {
			return fmt.Errorf("%q cannot name a %s: use small letters a to z, digits and hyphens, as in %s", id, kind, instead(id))
		}
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

func nextNumber(ref *schema.Reference) string {
	next, width := 1, 4
	for _, e := range ref.Examples.All() {
		if n, err := strconv.Atoi(e.ID); err == nil && n >= next {
			next, width = n+1, max(width, len(e.ID))
		}
	}
	return fmt.Sprintf("%0*d", width, next)
}

// create writes a file that must not exist yet, and takes it away again if
// writing fails.
func create(root *os.Root, name string, data []byte) error {
	if folder, _, ok := cutLast(name, "/"); ok {
		if err := root.MkdirAll(folder, 0o755); err != nil {
			return err
		}
	}
	f, err := root.OpenFile(name, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o644)
	if err != nil {
		return err
	}
	_, err = f.Write(data)
	if err = errors.Join(err, f.Close()); err != nil {
		_ = root.Remove(name)
	}
	return err
}

func cutLast(s, sep string) (before, after string, ok bool) {
	if i := strings.LastIndex(s, sep); i >= 0 {
		return s[:i], s[i+len(sep):], true
	}
	return s, "", false
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

func schemaFile(kind string) string { return SchemaFolder + "/" + kind + ".schema.json" }

// writeSchemas writes the schemas that are not there yet.
func writeSchemas(root *os.Root) ([]string, error) {
	all, err := Schemas()
	if err != nil {
		return nil, err
	}
	var written []string
	for name, data := range all {
		err := create(root, name, data)
		if errors.Is(err, fs.ErrExist) {
			continue
		}
		if err != nil {
			return written, fmt.Errorf("cannot write %s: %w", name, plainError(err))
		}
		written = append(written, name)
	}
	slices.Sort(written)
	return written, nil
}

func plainError(err error) error {
	var path *fs.PathError
	if errors.As(err, &path) {
		return path.Err
	}
	return err
}
