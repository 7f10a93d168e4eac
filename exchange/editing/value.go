package editing

import (
	"regexp"
	"strings"
	"unicode"
	"unicode/utf8"

	"yearmark/schema"
)

// Value is a piece of YAML that is to be written.
type Value struct {
	kind  valueKind
	text  string // of a word; of a literal as it stands
	items []*Value
	keys  []keyed // with values that are not nil
}

type valueKind uint8

const (
	wordKind    valueKind = iota // put in quotes where needed
	quotedKind                   // always in quotes, as citations are
	literalKind                  // a figure, true, false
	listKind
	mappingKind
)

type keyed struct {
	name  string
	value *Value
}

// Word is text, in quotes only where it would read otherwise without.
func Word(s string) *Value { return &Value{text: s} }

// Quoted is text that always stands in quotes, as citations do.
func Quoted(s string) *Value { return &Value{kind: quotedKind, text: s} }

// Literal is a figure, true or false, written as it stands.
func Literal(s string) *Value { return &Value{kind: literalKind, text: s} }

// List is a list of values.
func List(items ...*Value) *Value { return &Value{kind: listKind, items: items} }

// Words is a list of words.
func Words(list []string) *Value { return listOf(list, Word) }

// Citations is a list of quoted texts.
func Citations(list []string) *Value { return listOf(list, Quoted) }

func listOf(list []string, item func(string) *Value) *Value {
	v := List()
	for _, s := range list {
		v.items = append(v.items, item(s))
	}
	return v
}

// Mapping is keys and values; [Value.With] adds them.
func Mapping() *Value { return &Value{kind: mappingKind} }

// With adds a key, unless its value is nil, and gives the mapping.
func (v *Value) With(name string, value *Value) *Value {
	if value != nil {
		v.keys = append(v.keys, keyed{name, value})
	}
	return v
}

// Items gives the items of a list, nil of anything else.
func (v *Value) Items() []*Value { return v.items }

// Key gives a mapping's value under a key, or nil.
func (v *Value) Key(name string) *Value {
	for _, k := range v.keys {
		if k.name == name {
			return k.value
		}
	}
	return nil
}

// Append adds an item to a list.
func (v *Value) Append(item *Value) { v.items = append(v.items, item) }

// String gives the value as it is written on one line.
func (v *Value) String() string { return v.flow() }

// Equal says that two values are written alike.
func (v *Value) Equal(other *Value) bool { return v.flow() == other.flow() }

// flow writes the value on one line, as it stands between brackets.
func (v *Value) flow() string {
	switch v.kind {
	case literalKind:
		return v.text
	case quotedKind:
		return doubleQuoted(v.text)
	case listKind:
		parts := make([]string, len(v.items))
		for i, item := range v.items {
			parts[i] = item.flow()
		}
		return "[" + strings.Join(parts, ", ") + "]"
	case mappingKind:
		parts := make([]string, len(v.keys))
		for i, k := range v.keys {
			parts[i] = keyText(k.name) + ": " + k.value.flow()
		}
		return "{" + strings.Join(parts, ", ") + "}"
	}
	return scalar(v.text, true)
}

// keyText writes a key, bare where it is one that records have.
func keyText(name string) string {
	if plainKey.MatchString(name) {
		return name
	}
	return doubleQuoted(name)
}

var plainKey = regexp.MustCompile(`^[a-z][a-z0-9-]*$`)

// block writes the value as it stands after a key on a line of its own.
func (v *Value) block() string {
	if v.kind == wordKind {
		return scalar(v.text, false)
	}
	return v.flow()
}

// scalar writes text so that it reads as it is, bare where that is plain to people.
func scalar(s string, flow bool) string {
	if isBare(s, flow) {
		return s
	}
	return doubleQuoted(s)
}

// isBare says that text can stand without quotes, here and in other readers of YAML.
func isBare(s string, flow bool) bool {
	first, _ := utf8.DecodeRuneInString(s)
	if s == "" || strings.TrimSpace(s) != s || !(unicode.IsLetter(first) || unicode.IsDigit(first)) {
		return false
	}
	if flow && strings.ContainsAny(s, ",[]{}?:") || strings.ContainsAny(s, "\"\\#`") {
		return false
	}
	if strings.Contains(s, ": ") || strings.HasSuffix(s, ":") || strings.Contains(s, "\n") || strings.Contains(s, ", ") {
		return false
	}
	switch strings.ToLower(s) {
	case "true", "false", "yes", "no", "on", "off", "null", "y", "n":
		return false
	}
	return strings.IndexFunc(s, func(r rune) bool { return !unicode.IsPrint(r) }) < 0
}

// doubleQuoted leaves everything as it is but quotes, backslashes, line feeds
// and tabs, so that what a record must not hold is seen when it is read.
func doubleQuoted(s string) string {
	return `"` + strings.NewReplacer(`\`, `\\`, `"`, `\"`, "\n", `\n`, "\t", `\t`).Replace(s) + `"`
}

// singleQuoted is used where single quotes stood before.
func singleQuoted(s string) (string, bool) {
	if strings.ContainsAny(s, "\n\t") {
		return "", false
	}
	return "'" + strings.ReplaceAll(s, "'", "''") + "'", true
}

// Written gives a located value as it is written on one line.
func Written(l *schema.Located) string { return valueOf(l).flow() }

func valueOf(l *schema.Located) *Value {
	switch l.Kind {
	case schema.LocatedList:
		list := List()
		for _, item := range l.Items {
			list.Append(valueOf(item))
		}
		return list
	case schema.LocatedKeys:
		keys := Mapping()
		for _, k := range l.Keys {
			keys.With(k.Name, valueOf(k.Value))
		}
		return keys
	}
	if l.Style == '"' || l.Style == '\'' {
		return Quoted(l.Text)
	}
	return Word(l.Text)
}
