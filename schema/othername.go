package schema

import (
	"reflect"

	"go.yaml.in/yaml/v3"
)

// OtherName is a name that people know something by besides its own. In YAML it
// is that name alone, or a mapping with the years in which it was used and who says so.
type OtherName struct {
	Pos   Pos        `yaml:"-"`
	Name  Text       `yaml:"name" jsonschema:"required" jsonschema_description:"The other name."`
	Span  Span       `yaml:"span" jsonschema_description:"In which years it was called so, in EDTF."`
	Cites []Citation `yaml:"cites" jsonschema_description:"Who calls it so."`
}

// Plain says that nothing is known of the name but itself.
func (n OtherName) Plain() bool { return n.Span.IsZero() && len(n.Cites) == 0 }

// OtherNames gives names without their years.
func OtherNames(list []OtherName) []string {
	all := make([]string, len(list))
	for i, n := range list {
		all[i] = n.Name.Value
	}
	return all
}

// readOtherName reads a name, or {name, span, cites}.
func readOtherName(d *decoder, n *yaml.Node, k *key, to reflect.Value) bool {
	if n.Kind != yaml.ScalarNode {
		return readStruct(d, n, k, to)
	}
	name := to.Addr().Interface().(*OtherName)
	name.Pos = d.pos(n)
	return readText(d, n, k, reflect.ValueOf(&name.Name).Elem())
}
