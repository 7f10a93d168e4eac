package editing

import (
	"fmt"
	"reflect"
	"strings"

	"yearmark/schema"
)

// NewRecord writes a record's file: the kind, keys in their order, and the
// text below them.
func NewRecord(kind schema.Kind, keys *Value, text string) []byte {
	var b strings.Builder
	fmt.Fprintf(&b, "---\nrecord: %s\n", kind)
	for _, k := range keys.keys {
		if k.value.kind == listKind && len(k.value.items) > 0 && k.value.items[0].kind == mappingKind {
			fmt.Fprintf(&b, "%s:\n", keyText(k.name))
			for _, item := range k.value.items {
				fmt.Fprintf(&b, "  - %s\n", item.flow())
			}
			continue
		}
		fmt.Fprintf(&b, "%s: %s\n", keyText(k.name), k.value.block())
	}
	b.WriteString("---\n")
	if text = strings.TrimSpace(text); text != "" {
		b.WriteString("\n" + text + "\n")
	}
	return []byte(b.String())
}

// MappingOf makes the keys of something new from edits of nothing, in their order.
func MappingOf(edits []Edit, order []string) *Value {
	keys := Mapping()
	for _, group := range grouped(edits, order) {
		keys.With(group[0].Keys[0], whole(group))
	}
	return keys
}

// KeyOrder lists the keys of a record, claim or other type of the schema as
// its fields come.
func KeyOrder(of any) []string {
	t := reflect.TypeOf(of)
	if t.Kind() == reflect.Pointer {
		t = t.Elem()
	}
	keys := []string{"record"}
	for i := range t.NumField() {
		if key := t.Field(i).Tag.Get("yaml"); key != "" && key != "-" {
			keys = append(keys, key)
		}
	}
	return keys
}
