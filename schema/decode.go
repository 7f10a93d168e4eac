package schema

import (
	"errors"
	"fmt"
	"reflect"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"yearmark/schema/edtf"
	"yearmark/schema/english"

	"go.yaml.in/yaml/v3"
)

// decoder reads one file. It collects problems and goes on.
type decoder struct {
	file     string
	number   fileNumber // of file, once asked for
	front    []byte     // the YAML, for places inside a scalar
	starts   []int      // where its lines begin, once asked for
	shift    int        // lines of the file before the YAML
	problems Problems
	reported int // problems reported, the ones left out counted
	failed   map[failure]bool
	top      Pos // where the record's own keys begin
}

// failure is a key that was written, but could not be read.
type failure struct {
	in  Pos // where the mapping begins that has the key
	key string
}

// unread says that one of the keys was written but could not be read, which
// has been reported: its absence needs no second problem.
func (d *decoder) unread(in Pos, keys ...string) bool {
	for _, k := range keys {
		if d.failed[failure{in, k}] {
			return true
		}
	}
	return false
}

func (d *decoder) report(check string, at Pos, message, help string, why ...Place) {
	d.reported++
	switch {
	case d.reported <= maxProblems:
		d.problems = append(d.problems, Problem{Check: check, Pos: at, Message: message, Help: help, Why: why})
	case d.reported == maxProblems+1:
		d.problems = append(d.problems, Problem{Check: CheckTooLarge, Pos: at, Message: "there are too many problems in this file to list", Help: "Mend those listed and check again."})
	}
}

// full says that so many problems were reported that no further one is looked at.
func (d *decoder) full() bool { return d.reported > maxProblems }

// mistaken reports a scalar that a parser refused, at the place inside it.
func (d *decoder) mistaken(n *yaml.Node, err error) {
	var m *Malformed
	var s *edtf.SyntaxError
	switch {
	case d.full():
	case errors.As(err, &m):
		d.report(m.Check, d.inside(n, m.Offset), m.Message, m.Help)
		if m.Instead != "" {
			d.offer(instead(d.pos(n), m.Text, m.Instead))
		}
		if m.Check == CheckMalformedCite {
			d.problems[len(d.problems)-1].Written = m.Text
		}
	case errors.As(err, &s):
		d.report(CheckMalformedSpan, d.inside(n, s.Offset), fmt.Sprintf("%q cannot be read as years: %s", s.Text, s.Reason), Sentence(s.Remedy))
		for _, now := range s.Instead {
			d.offer(instead(d.pos(n), s.Text, now))
		}
	}
}

// Sentence gives a remedy its capital and its full stop, or a question mark
// where it asks.
func Sentence(s string) string {
	if s == "" {
		return s
	}
	r, size := utf8.DecodeRuneInString(s)
	s = strings.ToUpper(string(r)) + s[size:]
	switch {
	case strings.HasSuffix(s, ".") || strings.HasSuffix(s, "?"):
		return s
	case strings.HasPrefix(s, "Did you"):
		return s + "?"
	}
	return s + "."
}

// A reader fills a field from a node, and reports what does not fit. It
// answers whether the field was filled.
type reader func(d *decoder, n *yaml.Node, k *key, to reflect.Value) bool

// readerFor chooses how a field of a type is read.
func readerFor(t reflect.Type) reader {
	switch reflect.Zero(t).Interface().(type) {
	case Text:
		return readText
	case Number:
		return readNumber
	case Whole:
		return readWhole
	case Flag:
		return readFlag
	case Span:
		return readSpan
	case Range:
		return readRange
	case Region:
		return readRegion
	case Citation:
		return readCitation
	case Attestation:
		return readAttestation
	case OtherName:
		return readOtherName
	case Teaching:
		return readTeaching
	case Dispute:
		return readDispute
	case []*WeightMarks:
		return readWeightMarks
	case []MarkSign:
		return readMarkSigns
	case []Premise:
		return readPremises
	case []PrivateKey:
		return readPrivate
	case map[SourceKind]Number:
		return readCredence
	case map[string]Number:
		return readLooseness
	}
	switch t.Kind() {
	case reflect.Slice:
		return listReader(t.Elem())
	case reflect.Pointer:
		if inner := leafReader(t.Elem()); inner != nil {
			return pointerReader(t.Elem(), inner)
		}
		return pointerReader(t.Elem(), readStruct)
	}
	return readStruct
}

func leafReader(t reflect.Type) reader {
	if t == reflect.TypeFor[Whole]() {
		return readWhole
	}
	return nil
}

func pointerReader(t reflect.Type, inner reader) reader {
	return func(d *decoder, n *yaml.Node, k *key, to reflect.Value) bool {
		v := reflect.New(t)
		if !inner(d, n, k, v.Elem()) {
			return false
		}
		to.Set(v)
		return true
	}
}

func readStruct(d *decoder, n *yaml.Node, k *key, to reflect.Value) bool {
	return d.structure(n, to, k.child)
}

// mapping is keys and values that are read into a struct.
type mapping struct {
	*yaml.Node
	plan  *plan
	about About  // what the claim is about, if it is one
	noun  string // what people call it
}

// structure fills a struct from a mapping. A key that does not fit is reported
// and leaves its field empty; the others are read all the same.
func (d *decoder) structure(n *yaml.Node, to reflect.Value, about About) bool {
	m := mapping{n, planOf(to.Type()), about, ""}
	if m.noun = m.plan.noun; about != "" {
		m.noun = aboutNouns[about]
	}
	if n.Kind != yaml.MappingNode {
		d.wrongType(n, m.noun, "keys and values")
		return false
	}
	if m.plan.pos >= 0 {
		*to.Field(m.plan.pos).Addr().Interface().(*Pos) = d.pos(n)
	}
	var seen, written uint64
	for i := 0; i+1 < len(n.Content); i += 2 {
		place, known := m.plan.byName[n.Content[i].Value]
		switch {
		case !known || n.Content[i].Kind != yaml.ScalarNode:
			d.unknownKey(m, i)
		case seen&(1<<place) != 0:
			d.repeatedKey(n, i)
		default:
			seen |= 1 << place
			if d.field(m, i, &m.plan.keys[place], to) {
				written |= 1 << place
			}
		}
	}
	d.missingKeys(m, written)
	return true
}

// field reads the value of the key at i of a mapping. It answers whether the
// key counts as written, be its value readable or not.
func (d *decoder) field(m mapping, i int, k *key, to reflect.Value) bool {
	name, value := m.Content[i], m.Content[i+1]
	if m.about != "" && k.kinds != 0 && !k.kinds.has(m.about) {
		d.misplacedKey(m, name, k)
		return false
	}
	if isNull(value) {
		if k.isRequired(m.about) {
			d.report(CheckMissingKey, d.pos(name), fmt.Sprintf("%q has no value", k.name), "Write it after the colon: "+Sentence(k.about))
		}
		return true
	}
	if !k.read(d, value, k, to.Field(k.index)) {
		if d.failed == nil {
			d.failed = map[failure]bool{}
		}
		d.failed[failure{d.pos(m.Node), k.name}] = true
	}
	return true
}

func (k *key) isRequired(about About) bool { return k.required || k.must.has(about) }

func (d *decoder) missingKeys(m mapping, written uint64) {
	for i := range m.plan.keys {
		if k := &m.plan.keys[i]; written&(1<<i) == 0 && k.isRequired(m.about) {
			d.report(CheckMissingKey, d.pos(m.Node), fmt.Sprintf("%s has no key %q", m.noun, k.name), fmt.Sprintf("Add the key %s: %s", k.name, Sentence(k.about)))
		}
	}
}

func (d *decoder) unknownKey(m mapping, i int) {
	name := m.Content[i]
	if d.full() {
		return
	}
	if name.Kind != yaml.ScalarNode {
		d.report(CheckWrongType, d.pos(name), "a key is a list or has keys of its own", "Write each key as one word, followed by a colon and a space.")
		return
	}
	known := m.plan.names(m.about)
	help := didYouMean(name.Value, known, "The keys of "+m.noun+" are "+strings.Join(known, ", ")+".")
	text, value, colon := strings.Cut(name.Value, ":")
	switch {
	case colon && slices.Contains(known, text):
		help = fmt.Sprintf("Put a space after the colon: %s: %s", text, value)
	case i > 0 && m.Style&yaml.FlowStyle != 0 && isNull(m.Content[i+1]):
		before := m.Content[i-2].Value
		help = fmt.Sprintf("If it belongs to %q, put that whole text in quotes, because a comma ends it otherwise: %s: \"…, %s\".", before, before, english.Clip(name.Value, 60))
	case strings.Contains(name.Value, noBreakSpace):
		help = "Type ordinary spaces before and after the key: this line holds unbreakable ones, which come with text copied from a web page."
	}
	d.report(CheckUnknownKey, d.pos(name), fmt.Sprintf("%s has no key %q", m.noun, english.Clip(name.Value, 60)), help)
	written := func(key string) bool {
		return slices.ContainsFunc(m.Content, func(n *yaml.Node) bool { return n.Value == key })
	}
	if near, ok := Nearest(name.Value, known); ok && !colon && !written(near) {
		d.offer(Rename(d.pos(name), name.Value, near))
	}
}

func (d *decoder) misplacedKey(m mapping, name *yaml.Node, k *key) {
	var in []string
	for _, a := range allAbouts {
		if k.kinds.has(a) {
			in = append(in, aboutNouns[a])
		}
	}
	d.report(CheckMisplacedKey, d.pos(name), fmt.Sprintf("%q cannot be written in %s", k.name, m.noun),
		fmt.Sprintf("It belongs in %s. The keys of %s are %s.", orList(in), m.noun, strings.Join(m.plan.names(m.about), ", ")))
}

// orList writes "a, b or c".
func orList(words []string) string {
	if len(words) < 2 {
		return strings.Join(words, "")
	}
	return strings.Join(words[:len(words)-1], ", ") + " or " + words[len(words)-1]
}

func (d *decoder) repeatedKey(n *yaml.Node, i int) {
	name := n.Content[i]
	for j := 0; j < i && !d.full(); j += 2 {
		if first := n.Content[j]; first.Value == name.Value {
			d.report(CheckRepeatedKey, d.pos(name), fmt.Sprintf("the key %q is written twice", english.Clip(name.Value, 60)), "Keep one of the two; where both belong, put their values into one list.", Place{d.pos(first), "the first is here"})
			return
		}
	}
}

// isNull says that nothing was written after a key. The words null and ~ are
// text like any other.
func isNull(n *yaml.Node) bool {
	return n.Kind == yaml.ScalarNode && n.Value == "" && n.Style&^yaml.FlowStyle == 0
}

func (d *decoder) wrongType(n *yaml.Node, what, want string) {
	d.report(CheckWrongType, d.pos(n), fmt.Sprintf("%s wants %s, not %s", what, want, kindWords(n)), helpForType(n, want))
}

func kindWords(n *yaml.Node) string {
	switch n.Kind {
	case yaml.SequenceNode:
		return "a list"
	case yaml.MappingNode:
		return "keys and values"
	}
	return strconv.Quote(english.Clip(n.Value, 60))
}

func helpForType(n *yaml.Node, want string) string {
	switch {
	case n.Kind == yaml.ScalarNode && strings.HasPrefix(want, "keys"):
		if name, value, ok := strings.Cut(n.Value, ":"); ok && isIdentifier(name) {
			return fmt.Sprintf("Put a space after the colon: %s: %s", name, strings.TrimSpace(value))
		}
		return "Write them one to a line and indented, or in braces: {key: value, key: value}."
	case n.Kind == yaml.MappingNode && strings.Contains(want, "list"):
		return "Begin each entry with a hyphen and a space, or put the entries in brackets: [a, b]."
	case n.Kind == yaml.MappingNode:
		return "If the text itself holds a colon or braces, put it in quotes."
	case n.Kind == yaml.SequenceNode && strings.HasPrefix(want, "keys"):
		return "Write each key on a line of its own, followed by a colon and a space, without a hyphen before it."
	case n.Kind == yaml.SequenceNode:
		return "Write " + want + " without brackets or hyphens around it; if the text itself begins with one, put it in quotes."
	}
	return "Write " + want + " here."
}

// listReader reads a list; a single entry may stand without its brackets.
func listReader(elem reflect.Type) reader {
	base, pointers := elem, elem.Kind() == reflect.Pointer
	if pointers {
		base = elem.Elem()
	}
	inner := readerFor(base)
	slice := reflect.SliceOf(base)
	return func(d *decoder, n *yaml.Node, k *key, to reflect.Value) bool {
		items := n.Content
		if n.Kind == yaml.ScalarNode {
			items = []*yaml.Node{n}
		} else if n.Kind != yaml.SequenceNode {
			d.wrongType(n, strconv.Quote(k.name), "a list")
			return false
		}
		if len(items) > MaxClaims {
			d.report(CheckTooLarge, d.pos(items[MaxClaims]), fmt.Sprintf("%q has %d entries, more than %d", k.name, len(items), MaxClaims), "Divide the record: no list needs so many entries.")
			items = items[:MaxClaims]
		}
		values := reflect.MakeSlice(slice, len(items), len(items))
		kept := 0
		for _, item := range items {
			if isNull(item) {
				d.report(CheckWrongType, d.pos(item), fmt.Sprintf("an entry of %q is empty", k.name), "Write something after the hyphen, or delete it.")
			} else if inner(d, item, k, values.Index(kept)) {
				kept++
			}
		}
		values = values.Slice(0, kept)
		if pointers {
			values = pointersTo(values, reflect.SliceOf(elem))
		}
		to.Set(values)
		return kept == len(items)
	}
}

func pointersTo(values reflect.Value, slice reflect.Type) reflect.Value {
	list := reflect.MakeSlice(slice, values.Len(), values.Len())
	for i := range values.Len() {
		list.Index(i).Set(values.Index(i).Addr())
	}
	return list
}
