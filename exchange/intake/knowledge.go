package intake

import (
	"bytes"
	"encoding/json"
	"fmt"
	"strings"

	"yearmark/exchange/journal"
)

// KnowledgeKind is what the file states that it is.
const KnowledgeKind = "knowledge"

// Knowledge is what a visitor knows of a claim, an open question or a source.
type Knowledge struct {
	Yearmark  string       `json:"yearmark" jsonschema:"required,enum=knowledge" jsonschema_description:"What this file is: knowledge."`
	Version   int          `json:"version" jsonschema:"required,enum=1" jsonschema_description:"The version of this form: 1."`
	Reference string       `json:"reference" jsonschema:"required,minLength=1,maxLength=200" jsonschema_description:"The name of the reference that was read."`
	Edition   string       `json:"edition" jsonschema:"required,minLength=1,maxLength=80" jsonschema_description:"The edition that was read."`
	On        string       `json:"on" jsonschema:"required,pattern=^[0-9]{4}-[0-9]{2}-[0-9]{2}$" jsonschema_description:"The day on which the visitor saved it."`
	About     string       `json:"about" jsonschema:"required,minLength=1,maxLength=300" jsonschema_description:"The address of what it is about, below the site's root, as in models/plover.html#script-mark."`
	Stance    string       `json:"stance" jsonschema:"required,enum=agrees,enum=disagrees,enum=adds" jsonschema_description:"Whether it agrees, disagrees, or adds something else."`
	Knows     string       `json:"knows" jsonschema:"required,minLength=1,maxLength=4000" jsonschema_description:"What the visitor knows, as plain text."`
	Source    *KnownFrom   `json:"source,omitempty" jsonschema_description:"Where it stands."`
	Pictures  []Photograph `json:"pictures,omitempty" jsonschema:"maxItems=40" jsonschema_description:"The pictures that go with it, by file name."`
	By        string       `json:"by,omitempty" jsonschema:"maxLength=120" jsonschema_description:"Whom the site may name."`
	Private   *Private     `json:"private,omitempty" jsonschema_description:"For the editor alone; never published."`
}

// KnownFrom is where a visitor's knowledge stands.
type KnownFrom struct {
	Name  string `json:"name,omitempty" jsonschema:"maxLength=300" jsonschema_description:"The paper, book or person."`
	Place string `json:"place,omitempty" jsonschema:"maxLength=200" jsonschema_description:"The page or place in it."`
	Words string `json:"words,omitempty" jsonschema:"maxLength=2000" jsonschema_description:"The words that stand there, to the letter."`
}

// KindOf says what a file states that it is, "submission" or "knowledge"; it is
// empty where that cannot be made out.
func KindOf(data []byte) string {
	var top struct {
		Yearmark string `json:"yearmark"`
	}
	if len(data) > MaxBytes || json.Unmarshal(bytes.TrimPrefix(data, []byte("\xef\xbb\xbf")), &top) != nil {
		return ""
	}
	return top.Yearmark
}

// ReadKnowledge reads what a visitor knows, as strictly as Read. The error is a Problems.
func ReadKnowledge(data []byte) (*Knowledge, error) {
	text, err := valid(data, knowledgeSchema(), func(any) Problems { return nil })
	if err != nil {
		return nil, err
	}
	k := &Knowledge{}
	if err := json.Unmarshal(text, k); err != nil {
		return nil, whole("the file cannot be read", saveAgain)
	}
	if problems := k.plain(); len(problems) > 0 {
		return nil, problems.sorted()
	}
	return k, nil
}

var knowledgeSchema = schemaOf(&Knowledge{}, "urn:yearmark:schema:knowledge", "What a visitor knows of a claim, a question or a source")

// plain holds every text to plain text, and trims it.
func (k *Knowledge) plain() Problems {
	p := &plainer{}
	for name, text := range map[string]*string{"reference": &k.Reference, "edition": &k.Edition, "on": &k.On, "about": &k.About, "by": &k.By} {
		p.line(text, name)
	}
	p.lines(&k.Knows, "knows")
	p.some(k.Knows, "knows")
	if k.Source != nil {
		p.line(&k.Source.Name, "source", "name")
		p.line(&k.Source.Place, "source", "place")
		p.lines(&k.Source.Words, "source", "words")
	}
	p.photographs(k.Pictures, "pictures")
	p.sender(k.Private)
	p.day(k.On)
	return p.problems
}

// Filed gives the file in the inbox that keeps it. The same knowledge has the
// same name.
func (k *Knowledge) Filed() journal.Change { return filed(k.On, k) }

// Text is what the visitor says, in lines for a terminal, without what is private.
func (k *Knowledge) Text() string {
	var b strings.Builder
	fmt.Fprintf(&b, "about %s, edition %s, %s\n  %s: %s\n", k.About, k.Edition, k.On, k.Stance, strings.ReplaceAll(k.Knows, "\n", "\n  "))
	if s := k.Source; s != nil {
		fmt.Fprintf(&b, "  it stands in: %s\n", s.String())
	}
	for _, p := range k.Pictures {
		fmt.Fprintf(&b, "  picture: %s  %s\n", p.File, p.Shows)
	}
	if k.By != "" {
		fmt.Fprintf(&b, "  may be named: %s\n", k.By)
	}
	return b.String()
}

// String is the source in one line.
func (s *KnownFrom) String() string {
	var parts []string
	for _, part := range []string{s.Name, s.Place} {
		if part != "" {
			parts = append(parts, part)
		}
	}
	line := strings.Join(parts, ", ")
	if s.Words != "" {
		line += ": “" + strings.Join(strings.Fields(s.Words), " ") + "”"
	}
	return strings.TrimPrefix(line, ": ")
}
