package sheets

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

// fragment is a piece of YAML that is to be written.
type fragment struct {
	kind  fragmentKind
	text  string // of a word; of a literal as it stands
	items []fragment
	keys  []keyed // with values that are not nil
}

type fragmentKind uint8

const (
	wordFragment    fragmentKind = iota // put in quotes where needed
	quotedFragment                      // always in quotes, as citations are
	literalFragment                     // a figure, true, false
	listFragment
	keysFragment
)

type keyed struct {
	name  string
	value *fragment
}

func wordOf(s string) *fragment { return &fragment{text: s} }

func literalOf(s string) *fragment { return &fragment{kind: literalFragment, text: s} }

func wordsOf(list []string) *fragment {
	f := &fragment{kind: listFragment}
	for _, s := range list {
		f.items = append(f.items, *wordOf(s))
	}
	return f
}

// citesOf gives a list of citations.
func citesOf(list []string) *fragment {
	f := &fragment{kind: listFragment}
	for _, s := range list {
		f.items = append(f.items, fragment{kind: quotedFragment, text: s})
	}
	return f
}

// with adds a key, unless its value is nil.
func (f *fragment) with(name string, value *fragment) *fragment {
	if value != nil {
		f.keys = append(f.keys, keyed{name, value})
	}
	return f
}

func mappingOf() *fragment { return &fragment{kind: keysFragment} }

// flow writes the fragment on one line, as it stands between brackets.
func (f *fragment) flow() string {
	switch f.kind {
	case literalFragment:
		return f.text
	case quotedFragment:
		return doubleQuoted(f.text)
	case listFragment:
		parts := make([]string, len(f.items))
		for i := range f.items {
			parts[i] = f.items[i].flow()
		}
		return "[" + strings.Join(parts, ", ") + "]"
	case keysFragment:
		parts := make([]string, len(f.keys))
		for i, k := range f.keys {
			parts[i] = k.name + ": " + k.value.flow()
		}
		return "{" + strings.Join(parts, ", ") + "}"
	}
	return scalar(f.text, true)
}

// block writes the fragment as it stands after a key on a line of its own.
func (f *fragment) block() string {
	if f.kind == wordFragment {
		return scalar(f.text, false)
	}
	return f.flow()
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
