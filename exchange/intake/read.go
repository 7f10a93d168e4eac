package intake

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"strings"
	"unicode/utf8"

	validator "github.com/santhosh-tekuri/jsonschema/v6"
	"github.com/santhosh-tekuri/jsonschema/v6/kind"

	"yearmark/schema/english"
)

// The bounds of one submission.
const (
	MaxBytes = 256 << 10
	maxDepth = 6 // lists and keys within each other
)

const saveAgain = "Ask the visitor to save the submission once more from the site's dating form, and to send that file unchanged."

// Read reads one submission and holds it to all that can be told of it without
// the reference. The error is a Problems. It never panics.
func Read(data []byte) (*Submission, error) {
	text, err := valid(data, schemas(), newer)
	if err != nil {
		return nil, err
	}
	s := &Submission{}
	if err := json.Unmarshal(text, s); err != nil {
		return nil, whole("the file cannot be read as a submission", saveAgain)
	}
	if problems := s.plain(); len(problems) > 0 {
		return nil, problems.sorted()
	}
	return s, nil
}

// valid gives the text of a JSON file that a schema admits, once refuse has
// looked at what it holds.
func valid(data []byte, schema published, refuse func(document any) Problems) ([]byte, error) {
	text, err := plainJSON(data)
	if err != nil {
		return nil, err
	}
	document, err := validator.UnmarshalJSON(bytes.NewReader(text))
	if err != nil {
		return nil, whole("the file is not JSON: "+jsonFault(err), saveAgain)
	}
	if problems := refuse(document); problems != nil {
		return nil, problems
	}
	if err := schema.compiled.Validate(document); err != nil {
		return nil, schemaProblems(err)
	}
	return text, nil
}

// plainJSON refuses what is too large, too deep or no JSON at all, and keys
// that stand twice, of which readers of JSON differ on which one counts.
func plainJSON(data []byte) ([]byte, error) {
	if len(data) > MaxBytes {
		return nil, whole(fmt.Sprintf("the file has %d KB, more than %d", len(data)>>10, MaxBytes>>10), "Photographs are sent beside the submission, not within it.")
	}
	text := bytes.TrimPrefix(data, []byte("\xef\xbb\xbf"))
	if what := otherKind(text); what != "" {
		return nil, whole("this is "+what+", not a submission", saveAgain)
	}
	if !utf8.Valid(text) {
		return nil, whole("the file is not UTF-8 text", saveAgain)
	}
	d := json.NewDecoder(bytes.NewReader(text))
	d.UseNumber()
	if err := walk(d, 0); err != nil {
		return nil, err
	}
	if _, err := d.Token(); !errors.Is(err, io.EOF) {
		return nil, whole("something stands after the end of the submission", saveAgain)
	}
	return text, nil
}

// otherKind names a file that begins like something else that people send.
func otherKind(text []byte) string {
	for _, k := range []struct{ begins, what string }{
		{"PK\x03\x04", "a packed file or a word processor's"}, {"%PDF", "a PDF"}, {"\xff\xd8\xff", "a photograph"}, {"\x89PNG", "a picture"},
		{"\xff\xfe", "text saved as UTF-16"}, {"\xfe\xff", "text saved as UTF-16"}, {"<", "a web page"}, {"---", "a record"},
	} {
		if bytes.HasPrefix(text, []byte(k.begins)) {
			return k.what
		}
	}
	if len(bytes.TrimSpace(text)) == 0 {
		return "an empty file"
	}
	return ""
}

// walk reads one value, counts its depth and looks for keys that stand twice.
func walk(d *json.Decoder, depth int) error {
	token, err := d.Token()
	if err != nil {
		return whole("the file is not JSON: "+jsonFault(err), saveAgain)
	}
	open, compound := token.(json.Delim)
	if !compound {
		return nil
	}
	if depth >= maxDepth {
		return whole(fmt.Sprintf("lists stand more than %d deep in each other", maxDepth), saveAgain)
	}
	seen := map[string]bool{}
	for d.More() {
		if open == '{' {
			name, err := d.Token()
			if err != nil {
				return whole("the file is not JSON: "+jsonFault(err), saveAgain)
			}
			key, _ := name.(string)
			if seen[key] {
				return whole("a key stands twice in one place", saveAgain)
			}
			seen[key] = true
		}
		if err := walk(d, depth+1); err != nil {
			return err
		}
	}
	if _, err := d.Token(); err != nil {
		return whole("the file is not JSON: "+jsonFault(err), saveAgain)
	}
	return nil
}

// jsonFault says what a JSON reader complains of, in words that repeat nothing of the file.
func jsonFault(err error) string {
	var syntax *json.SyntaxError
	switch {
	case errors.Is(err, io.EOF), errors.Is(err, io.ErrUnexpectedEOF):
		return "it ends too early"
	case errors.As(err, &syntax):
		return fmt.Sprintf("something is wrong %d bytes into it", syntax.Offset)
	}
	return "it cannot be made out"
}

// newer tells a submission of another version, or another file, before its
// keys are held against the schema.
func newer(document any) Problems {
	top, ok := document.(map[string]any)
	if !ok || top["yearmark"] != Kind {
		return whole("this is JSON, but not a submission", saveAgain)
	}
	version, ok := top["version"].(json.Number)
	if ok && version.String() != fmt.Sprint(Version) {
		return whole(fmt.Sprintf("the submission is of version %s; this program knows version %d", english.Clip(version.String(), maxShown), Version), "Use a newer Yearmark, or have it saved once more from the present site.")
	}
	return nil
}

// schemaProblems puts what the schema refuses into words.
func schemaProblems(err error) Problems {
	var refused *validator.ValidationError
	if !errors.As(err, &refused) {
		return whole("the file cannot be held against the form of a submission", saveAgain)
	}
	var problems Problems
	var each func(*validator.ValidationError)
	each = func(e *validator.ValidationError) {
		for _, cause := range e.Causes {
			each(cause)
		}
		if len(e.Causes) == 0 {
			problems = append(problems, schemaProblem(e.InstanceLocation, e.ErrorKind))
		}
	}
	each(refused)
	return problems.sorted()
}

func schemaProblem(way []string, refused validator.ErrorKind) Problem {
	p := Problem{Where: placeWords(way), Help: saveAgain}
	switch k := refused.(type) {
	case *kind.Required:
		p.Message = "is missing: " + strings.Join(k.Missing, ", ")
	case *kind.AdditionalProperties:
		p.Message = "there is a key that no submission has"
		if !isPrivate(way) {
			p.Message += ": " + fmt.Sprintf("%q", english.Clip(k.Properties[0], maxShown))
		}
	case *kind.Type:
		p.Message = "is " + typeWords[k.Got] + ", where " + typeWords[k.Want[0]] + " is wanted"
	case *kind.Enum:
		p.Message = fmt.Sprintf("is none of %s", joinAny(k.Want))
	case *kind.MaxLength:
		p.Message, p.Help = fmt.Sprintf("has %d characters, more than %d", k.Got, k.Want), "Ask the visitor for a shorter text."
	case *kind.MinLength, *kind.MinItems:
		p.Message = "is empty"
	case *kind.MaxItems:
		p.Message, p.Help = fmt.Sprintf("has %d entries, more than %d", k.Got, k.Want), "Ask the visitor to send the most telling ones."
	case *kind.Pattern:
		p.Message = "is not written as in 2026-11-20"
	case *kind.Minimum, *kind.Maximum:
		p.Message = "is a number beyond its bounds"
	default:
		p.Message = "is not as a submission has it"
	}
	return p
}

var typeWords = map[string]string{
	"object": "keys and values", "array": "a list", "string": "text", "number": "a number", "integer": "a whole number", "boolean": "true or false", "null": "nothing",
}

func joinAny(list []any) string {
	words := make([]string, len(list))
	for i, v := range list {
		words[i] = fmt.Sprint(v)
	}
	return strings.Join(words, ", ")
}
