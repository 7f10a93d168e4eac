package starter

import (
	"bytes"
	"encoding/json"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"
	"go.yaml.in/yaml/v3"
)

// wired is the comment by which editors find the schema of a file.
var wired = regexp.MustCompile(`(?m)\A(?:---\n)?# yaml-language-server: \$schema=(\S+)\n`)

// TestEditorsFindTheSchema: every record of the starting reference names its
// schema in its first line, the schema is there, and it takes the record as a
// YAML reader that guesses types has it.
func TestEditorsFindTheSchema(t *testing.T) {
	folder := filepath.Join(t.TempDir(), "r")
	written, err := Write(folder)
	if err != nil {
		t.Fatal(err)
	}
	records := 0
	for _, name := range written {
		path := filepath.Join(folder, name)
		text, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		ending := filepath.Ext(name)
		if ending != ".md" && ending != ".yaml" {
			continue
		}
		records++
		line := wired.FindSubmatch(text)
		if line == nil {
			t.Errorf("%s does not name its schema", name)
			continue
		}
		front := string(text)
		if ending == ".md" {
			front = strings.SplitN(front, "\n---\n", 2)[0]
		}
		if err := compiled(t, filepath.Join(filepath.Dir(path), string(line[1]))).Validate(document(t, front)); err != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
	if records < 12 {
		t.Errorf("only %d records were looked at", records)
	}
}

func compiled(t *testing.T, path string) *jsonschema.Schema {
	t.Helper()
	s, err := jsonschema.NewCompiler().Compile(path)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// document gives YAML as the JSON that an editor holds against a schema.
func document(t *testing.T, text string) any {
	t.Helper()
	var value any
	if err := yaml.Unmarshal([]byte(text), &value); err != nil {
		t.Fatal(err)
	}
	encoded, err := json.Marshal(value)
	if err != nil {
		t.Fatal(err)
	}
	document, err := jsonschema.UnmarshalJSON(bytes.NewReader(encoded))
	if err != nil {
		t.Fatal(err)
	}
	return document
}

func TestTakesBackWhatItWrote(t *testing.T) {
	folder := t.TempDir()
	mine := filepath.Join(folder, "mine.txt")
	if err := os.WriteFile(mine, []byte("mine"), 0o644); err != nil {
		t.Fatal(err)
	}
	if _, err := Write(folder); err == nil || !strings.Contains(err.Error(), "is not empty") {
		t.Errorf("into a folder that holds something: %v", err)
	}
	if entries, err := os.ReadDir(folder); err != nil || len(entries) != 1 {
		t.Errorf("%v, %v", entries, err)
	}
}
