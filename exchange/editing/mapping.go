package editing

import (
	"bytes"
	"cmp"
	"slices"

	"yearmark/schema"
)

// mapping changes keys of a mapping. order lists its keys as records have
// them; a key that is new goes after those that come before it.
func (f *File) mapping(m *schema.Located, order []string, depth int, edits []Edit) error {
	shape := newReshaping(m, keyMembers(m), depth)
	for _, group := range grouped(edits, order) {
		name := group[0].Keys[0]
		at := slices.IndexFunc(m.Keys, func(k schema.LocatedKey) bool { return k.Name == name })
		if at >= 0 && len(group[0].Keys) > 1 && m.Keys[at].Value.Kind == schema.LocatedKeys && !removesAll(m.Keys[at].Value, group) {
			if err := f.mapping(m.Keys[at].Value, nil, depth+1, inner(group)); err != nil {
				return err
			}
			continue
		}
		value := whole(group)
		switch {
		case at >= 0 && value == nil:
			shape.removed[at] = true
		case at >= 0:
			f.value(m, at, Edit{Old: group[0].Old, New: value}, depth)
		case value != nil:
			after := anchor(m, shape.removed, order, name)
			text := keyText(name) + ": " + value.block()
			if m.Flow {
				text = keyText(name) + ": " + value.flow()
			}
			shape.added[after] = append(shape.added[after], text)
		}
	}
	return f.reshape(shape)
}

// grouped puts edits below one key together, in the order of the keys.
func grouped(edits []Edit, order []string) [][]Edit {
	var groups [][]Edit
	for _, ed := range edits {
		i := slices.IndexFunc(groups, func(g []Edit) bool { return g[0].Keys[0] == ed.Keys[0] })
		if i < 0 {
			groups = append(groups, []Edit{ed})
			continue
		}
		groups[i] = append(groups[i], ed)
	}
	slices.SortStableFunc(groups, func(a, b []Edit) int {
		return cmp.Compare(slices.Index(order, a[0].Keys[0]), slices.Index(order, b[0].Keys[0]))
	})
	return groups
}

func inner(group []Edit) []Edit {
	list := make([]Edit, len(group))
	for i, ed := range group {
		list[i] = Edit{ed.Keys[1:], ed.Old, ed.New}
	}
	return list
}

// removesAll says that nothing would be left of a mapping.
func removesAll(m *schema.Located, group []Edit) bool {
	for _, k := range m.Keys {
		i := slices.IndexFunc(group, func(ed Edit) bool { return ed.Keys[1] == k.Name })
		if i < 0 || group[i].New != nil {
			return false
		}
	}
	return !slices.ContainsFunc(group, func(ed Edit) bool { return ed.New != nil })
}

// whole is the value that a group of edits makes of a key that is not there.
func whole(group []Edit) *Value {
	if len(group[0].Keys) == 1 {
		return group[0].New
	}
	m := Mapping()
	for _, ed := range group {
		m.With(ed.Keys[1], ed.New)
	}
	if len(m.keys) == 0 {
		return nil
	}
	return m
}

// anchor finds the member that a new key is to follow, or -1 for none.
func anchor(m *schema.Located, removed []bool, order []string, name string) int {
	place := slices.Index(order, name)
	after := -1
	for i, k := range m.Keys {
		if !removed[i] && (place < 0 || slices.Index(order, k.Name) < place) {
			after = i
		}
	}
	return after
}

// value exchanges one value of a mapping.
func (f *File) value(m *schema.Located, at int, change Edit, depth int) {
	key, old, value := m.Keys[at], change.Old, change.New
	now := key.Value
	switch {
	case now.Kind == schema.LocatedList && value.kind == listKind && old != nil && len(old.items) == len(now.Items) && len(now.Items) > 0 && len(value.items) > 0:
		f.list(now, old.items, value.items, depth+1)
	case now.Kind != schema.LocatedText && !now.Flow:
		start := now.Start
		if gap := f.source[key.End:now.Start]; len(bytes.Trim(gap, ": \t\r\n")) == 0 {
			start = key.End
		}
		text := value.flow()
		if start == key.End {
			text = ": " + text
		}
		f.splice(start, now.End, text, depth)
	case now.Kind == schema.LocatedText && now.Start == now.End:
		f.splice(now.Start, now.End, " "+written(value, 0, m.Flow), depth)
	default:
		f.splice(now.Start, now.End, written(value, now.Style, m.Flow), depth)
	}
}

// written writes a value in the quotes that stood there before, if they will do.
func written(v *Value, style byte, flow bool) string {
	if v.kind == wordKind || v.kind == quotedKind {
		switch style {
		case '"':
			return doubleQuoted(v.text)
		case '\'':
			if s, ok := singleQuoted(v.text); ok {
				return s
			}
		}
	}
	if flow {
		return v.flow()
	}
	return v.block()
}

// list changes the items of a list that are not what they were: those at its
// beginning and end that are the same stay untouched.
func (f *File) list(n *schema.Located, old, items []*Value, depth int) {
	head := 0
	for head < len(old) && head < len(items) && old[head].Equal(items[head]) {
		head++
	}
	tail := 0
	for tail < len(old)-head && tail < len(items)-head && old[len(old)-1-tail].Equal(items[len(items)-1-tail]) {
		tail++
	}
	oldEnd, newEnd := len(old)-tail, len(items)-tail
	shape := newReshaping(n, f.items(n), depth)
	for head < oldEnd && head < newEnd {
		now := n.Items[head]
		f.splice(now.Start, now.End, written(items[head], now.Style, n.Flow), depth)
		head++
	}
	for i := head; i < oldEnd; i++ {
		shape.removed[i] = true
	}
	for i := head; i < newEnd; i++ {
		shape.added[head-1] = append(shape.added[head-1], items[i].flow())
	}
	// what is removed cannot leave the list empty: items is not empty
	_ = f.reshape(shape)
}

// items gives the members of a list; in a list with hyphens a member begins
// with its own.
func (f *File) items(n *schema.Located) []member {
	members := make([]member, len(n.Items))
	for i, item := range n.Items {
		members[i] = member{item.Start, item.End}
		if n.Flow {
			continue
		}
		if i == 0 {
			members[i].start = n.Start
			continue
		}
		from := n.Items[i-1].End
		if dash := f.hyphen(n, from, item.Start); dash >= 0 {
			members[i].start = dash
		}
	}
	return members
}

// hyphen finds the hyphen of a list's item between two places: the one that
// stands below the list's first.
func (f *File) hyphen(n *schema.Located, from, to int) int {
	column := n.Start - f.lineStart(n.Start)
	for at := from; at < to; at++ {
		if f.source[at] == '-' && at-f.lineStart(at) == column {
			return at
		}
	}
	return -1
}
