package schema

import (
	"bytes"
	"fmt"
	"strings"

	"go.yaml.in/yaml/v3"
)

// parse turns the YAML of a file into its top node. It answers nil where it
// reported that there is nothing to read.
func (d *decoder) parse(front []byte) *yaml.Node {
	top := d.parseNodes(front)
	if top != nil && bytes.IndexByte(front, '\\') >= 0 {
		d.escapedCharacters(top)
	}
	return top
}

// escapedCharacters refuses, as oddCharacters does, what stands in the text by
// its number only: YAML writes a direction mark as "\u202e", too.
func (d *decoder) escapedCharacters(n *yaml.Node) {
	for _, child := range n.Content {
		d.escapedCharacters(child)
	}
	if n.Kind != yaml.ScalarNode || n.Style&yaml.DoubleQuotedStyle == 0 {
		return
	}
	reported := false
	n.Value = strings.Map(func(r rune) rune {
		what, odd := oddCharacter(r, true)
		if !odd {
			return r
		}
		if !reported {
			reported = true
			d.report(CheckOddCharacters, d.pos(n), fmt.Sprintf("the text stands for %s (U+%04X)", what, r), "Take the backslash and what follows it out of the text; write line breaks as they are.")
		}
		return '_'
	}, n.Value)
}

func (d *decoder) parseNodes(front []byte) *yaml.Node {
	d.front = front
	if len(front) > maxFrontBytes {
		d.report(CheckTooLarge, d.at(d.shift+1, 1), fmt.Sprintf("the keys and values have %.1f MB, more than %d MB", float64(len(front))/(1<<20), maxFrontBytes>>20), "Divide the record, or move prose below the second line of hyphens.")
		return nil
	}
	if at := hopelesslyDeep(front); at >= 0 {
		d.tooDeep(placeOf(d.file, front, at).moved(d.shift, 0))
		return nil
	}
	if d.severalDocuments(front) {
		return nil
	}
	node, err := parseYAML(front)
	if err != nil {
		node, err = parseQuestions(front, err)
	}
	if err != nil {
		d.malformed(front, err)
		return nil
	}
	if node == nil {
		d.report(CheckMissingKey, d.at(d.shift+1, 1), "there are no keys", "Write the keys of the record between the two lines of three hyphens, one to a line: key: value.")
		return nil
	}
	if !d.guard(node, 1) {
		return nil
	}
	return node
}

// parseYAML gives the top node of a document, nil for an empty one.
func parseYAML(text []byte) (top *yaml.Node, err error) {
	defer func() {
		if r := recover(); r != nil {
			top, err = nil, fmt.Errorf("yaml: %v", r)
		}
	}()
	var document yaml.Node
	if err := yaml.Unmarshal(text, &document); err != nil {
		return nil, err
	}
	if len(document.Content) == 0 || isNull(document.Content[0]) {
		return nil, nil
	}
	return document.Content[0], nil
}

// standIn takes the place of a question mark, for parseQuestions.
const standIn = "\ue03f"

// parseQuestions reads YAML in which unquoted text between brackets holds
// question marks, as in {span: 1968?}. YAML 1.2 admits that; the library keeps
// the rule of YAML 1.1 and refuses it. Other errors are given back.
func parseQuestions(text []byte, refusal error) (*yaml.Node, error) {
	if bytes.IndexByte(text, '?') < 0 || bytes.Contains(text, []byte(standIn)) {
		return nil, refusal
	}
	scan := scanYAML(text)
	if scan.fault != nil || len(scan.questions) == 0 {
		return nil, refusal
	}
	var replaced []byte
	copied := 0
	for _, at := range scan.questions {
		replaced = append(append(replaced, text[copied:at]...), standIn...)
		copied = at + 1
	}
	top, err := parseYAML(append(replaced, text[copied:]...))
	if err != nil {
		return nil, refusal
	}
	restore(top)
	return top, nil
}

func restore(n *yaml.Node) {
	if n == nil {
		return
	}
	if strings.Contains(n.Value, standIn) {
		n.Value = strings.ReplaceAll(n.Value, standIn, "?")
	}
	for _, child := range n.Content {
		restore(child)
	}
}

func (d *decoder) tooDeep(at Pos) {
	d.report(CheckTooDeep, at, fmt.Sprintf("lists and keys stand more than %d deep in each other", MaxDepth), "Close the brackets, or take out the indentation: no record needs so many levels.")
}

// guard refuses what YAML can do and a record must not: anchors, aliases,
// explicit tags, and nesting beyond MaxDepth. It answers whether to go on.
func (d *decoder) guard(n *yaml.Node, depth int) bool {
	at := d.pos(n)
	switch {
	case depth > MaxDepth:
		d.tooDeep(at)
		return false
	case n.Kind == yaml.AliasNode:
		d.report(CheckAlias, at, `"*" refers to another place in the file`, "Write the value out here; if the asterisk is part of the text, put the text in quotes.")
		return false
	case n.Anchor != "":
		d.report(CheckAlias, at, `"&" names a place in the file`, "Leave the name out; if the ampersand is part of the text, put the text in quotes.")
		return false
	case n.Style&yaml.TaggedStyle != 0:
		d.report(CheckAlias, at, `"!" states a YAML type`, "Leave it out; if the exclamation mark is part of the text, put the text in quotes.")
		return false
	}
	if n.Kind == yaml.MappingNode {
		for i := 0; i < len(n.Content); i += 2 {
			if n.Content[i].Tag == "!!merge" {
				d.report(CheckAlias, d.pos(n.Content[i]), "\"<<\" merges keys from another place", "Write the keys out here.")
				return false
			}
		}
	}
	for _, child := range n.Content {
		if !d.guard(child, depth+1) {
			return false
		}
	}
	return true
}

// severalDocuments refuses marks that begin or end a YAML document, and directives.
func (d *decoder) severalDocuments(front []byte) bool {
	if front = bytes.TrimSuffix(front, []byte("\n")); len(front) == 0 {
		return false
	}
	line := 0
	for text := range bytes.Lines(front) {
		line++
		mark := strings.TrimRight(string(text[:min(4, len(text))]), " \t\r\n")
		if !(mark == "---" || mark == "...") || line == 1 && d.shift == 0 {
			continue
		}
		d.report(CheckUnreadable, d.at(line+d.shift, 1), fmt.Sprintf("%q begins or ends a second YAML document", mark), "Delete the line: there is one set of keys in a file.")
		return true
	}
	return false
}
